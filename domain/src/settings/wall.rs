//! The risk that the wall of the slot smears: texture, moisture and force together.

use serde::{Deserialize, Serialize};

use super::say::pounds;
use crate::conditions::{BallTest, Conditions, Moisture, RiskPoint, TextureClass, TextureGroup};
use crate::planter::ClosingPair;
use crate::provenance::{
    Advice, Assumed, Coefficient, Coefficients, Input, Mark, Reason, Step, sources,
};
use crate::quantity::{Force, Measured, System, bounds};

/// How likely the wall is to smear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WallRisk {
    /// It crumbles.
    Low,
    /// Look at it in every dig.
    Some,
    /// Expect it.
    High,
}

/// The risk that the wall smears, with what makes it up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WallAdvice {
    /// The class.
    pub risk: WallRisk,
    /// Heaviest load on the gauge wheels at the advised setting.
    pub load: Force,
    /// Fineness of the texture, moisture, force: each a factor with its reason.
    pub factors: Vec<RiskPoint>,
    /// The product of the factors.
    pub product: f64,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// Works out the risk that the wall smears at a gauge-wheel load.
///
/// Fineness of the texture times moisture times load over the heavy class: each factor a row of
/// the table (`wall_...`), this project's own choice. A ball that deforms or a ribbon that is too
/// long counts as wet, whatever the feel. High risk asks for less force, gentler closing, or a
/// wait; waiting comes first where the soil is wet, since a smeared wall cannot be mended.
pub fn wall_risk(
    c: &Conditions,
    load: Force,
    closing: ClosingPair,
    k: &Coefficients,
) -> Advice<WallAdvice> {
    let texture = by_texture(c, k);
    let moisture = by_moisture(c, k);
    let force = by_force(load, k);
    let product = texture.worth * moisture.worth * force.worth;
    let risk = if product < k.wall_some.value {
        WallRisk::Low
    } else if product < k.wall_high.value {
        WallRisk::Some
    } else {
        WallRisk::High
    };
    let steps = vec![step([&texture, &moisture, &force], product, k)];
    let factors = vec![texture, moisture, force];
    Advice {
        because: factors.iter().map(|factor| factor.because.clone()).collect(),
        watch: watch(risk, is_wet(c, k), closing),
        assumed: assumed_of(c),
        choice: WallAdvice { risk, load, factors, product, steps },
    }
}

fn by_texture(c: &Conditions, k: &Coefficients) -> RiskPoint {
    let group = c.texture.map_or(TextureGroup::Medium, TextureClass::group);
    let (factor, words) = match group {
        TextureGroup::Coarse => (&k.wall_coarse, "coarse soil crumbles"),
        TextureGroup::ModeratelyCoarse => (&k.wall_moderately_coarse, "sandy loam seldom smears"),
        TextureGroup::Medium => (&k.wall_medium, "medium soil smears when it is wet"),
        TextureGroup::Fine => (&k.wall_fine, "fine soil smears easily"),
    };
    point(factor, words)
}

fn by_moisture(c: &Conditions, k: &Coefficients) -> RiskPoint {
    let felt = c.moisture.unwrap_or(Moisture::Moist);
    let feel = match felt {
        Moisture::Dry => &k.wall_dry,
        Moisture::SlightlyMoist => &k.wall_slightly_moist,
        Moisture::Moist => &k.wall_moist,
        Moisture::Wet => &k.wall_wet,
        Moisture::AtCapacity => &k.wall_at_capacity,
    };
    // The wettest of what was seen counts.
    if shows_wet(c, k) && k.wall_wet.value > feel.value {
        return point(&k.wall_wet, "ball or ribbon says that the soil is wet");
    }
    let text = format!("soil that is {}", felt.words());
    RiskPoint { worth: feel.value, because: Reason::made(text, feel.mark, feel.source.clone()) }
}

fn by_force(load: Force, k: &Coefficients) -> RiskPoint {
    let reference = &k.wall_load;
    let worth = if reference.value > 0.0 { load.si().max(0.0) / reference.value } else { 0.0 };
    let text = format!(
        "up to {} on the gauge wheels; the heavy class starts at {}",
        pounds(load),
        pounds(Force::from_si(reference.value))
    );
    RiskPoint { worth, because: Reason::made(text, Mark::Derived, reference.source.clone()) }
}

fn point(factor: &Coefficient, words: &'static str) -> RiskPoint {
    let because = Reason::made(words.to_owned(), factor.mark, factor.source.clone());
    RiskPoint { worth: factor.value, because }
}

/// Whether ball or ribbon says that the soil is wet.
fn shows_wet(c: &Conditions, k: &Coefficients) -> bool {
    let long = c
        .ribbon
        .is_some_and(|r| bounds::RIBBON_LENGTH.show(r, System::Us).0 > k.ribbon_too_wet.value);
    c.ball == Some(BallTest::Deforms) || long
}

fn is_wet(c: &Conditions, k: &Coefficients) -> bool {
    matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity)) || shows_wet(c, k)
}

fn step([texture, moisture, force]: [&RiskPoint; 3], product: f64, k: &Coefficients) -> Step {
    Step {
        step: "sidewall risk".into(),
        formula: "f_tex f_m G / G_ref".into(),
        inputs: vec![
            Input::new("f_tex", texture.worth, "1"),
            Input::new("f_m", moisture.worth, "1"),
            Input::new("G / G_ref", force.worth, "1"),
        ],
        value: product,
        unit: "1".into(),
        low: None,
        high: None,
        source: sources::OWN_CHOICE.into(),
        mark: k.wall_medium.mark.max(k.wall_moist.mark),
    }
}

fn watch(risk: WallRisk, wet: bool, closing: ClosingPair) -> Vec<Reason> {
    let breaks = matches!(
        closing,
        ClosingPair::SpikedAndRubber | ClosingPair::TwoSpiked | ClosingPair::Finger
    );
    let list = [
        (risk == WallRisk::High && wet, WAIT),
        (risk > WallRisk::Low, LESS_FORCE),
        (risk > WallRisk::Low, LIGHT_CLOSING),
        (risk > WallRisk::Low && !breaks, BREAK_IT),
        (risk > WallRisk::Low, LOOK),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

fn assumed_of(c: &Conditions) -> Vec<Assumed> {
    let list = [
        (
            c.moisture.is_none(),
            "moisture at seed depth",
            "moist",
            "squeeze soil from seed depth and report how it feels",
        ),
        (
            c.texture.is_none(),
            "texture of the topsoil",
            "medium",
            "feel the texture, or look at the soil survey",
        ),
    ];
    list.into_iter()
        .filter(|(gap, ..)| *gap)
        .map(|(_, what, used, instead)| Assumed {
            what: what.into(),
            used: used.into(),
            range: None,
            instead: instead.into(),
            mark: Mark::Assumption,
            source: sources::ASSUMPTION.into(),
        })
        .collect()
}

/// Said beside "plant" where the risk is high.
pub(super) const WALL_SMEARS: Reason = Reason::fixed(
    "the wall is likely to smear at this setting: dig after 50 ft, and stop if it shines",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const WAIT: Reason = Reason::fixed(
    "a smeared wall cannot be mended, and it is worst when it turns dry afterwards: wait",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL,
);
const LESS_FORCE: Reason = Reason::fixed(
    "too wet, too shallow, too much pressure on gauge and closing wheels make the wall smear: no more force than contact needs",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL,
);
const LIGHT_CLOSING: Reason =
    Reason::fixed("closing springs light, or none", Mark::Read, sources::IOWA_WET);
const BREAK_IT: Reason = Reason::fixed(
    "a spiked or finger wheel breaks a standing wall that smooth wheels only press",
    Mark::Read,
    sources::COLORADO_TEN,
);
const LOOK: Reason = Reason::fixed(
    "dig across the row: a smooth, shiny wall or an unbroken V says stop",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL_LATER,
);
