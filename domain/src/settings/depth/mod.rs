//! Planting depth: from the crop, then moved by each condition inside the safe range.

mod corn;
mod lever;
mod plan;
mod soybean;

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};
use uom::si::length::inch;
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use self::corn::corn;
use self::lever::{notch, notch_words};
use self::plan::Plan;
use self::soybean::soybean;
use super::coulter::coulter;
use crate::conditions::{
    Conditions, Crop, HairpinRisk, Moisture, TextureClass, TextureGroup, mat_fraction, seed_zone,
};
use crate::planter::{Coulter, DepthLever, LeverPosition, OpenerDisc, Planter};
use crate::provenance::{Advice, Assumed, Coefficients, Input, Mark, Reason, Step, sources};
use crate::quantity::{Length, Measured};

/// The advice on depth. Depths are of the furrow, from the soil under the mat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DepthAdvice {
    /// Depth to start with.
    pub start: Length,
    /// Shallowest that is safe here.
    pub safe_low: Length,
    /// Deepest that is safe here.
    pub safe_high: Length,
    /// The notch of the lever, where its steps are known.
    pub lever: Option<LeverPosition>,
    /// What the lever must say: furrow depth plus half the wear of the disc diameter.
    pub lever_depth: Length,
    /// The depth of the crop before anything moved it.
    #[serde(default)]
    pub base: Length,
    /// What moved it, and by how much. The sum is cut off at the ends of the safe range.
    #[serde(default)]
    pub moves: Vec<DepthMove>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// One condition that moves the depth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DepthMove {
    /// By how much; negative is shallower.
    pub by: Length,
    /// Why.
    pub because: Reason,
}

/// What makes the furrow.
#[derive(Debug, Clone, Copy)]
pub struct FurrowIron {
    /// The opener discs.
    pub opener: Option<OpenerDisc>,
    /// The depth lever, where its steps are known.
    pub lever: Option<DepthLever>,
    /// The coulter ahead of the opener, if there is one.
    pub coulter: Option<Coulter>,
}

impl From<&Planter> for FurrowIron {
    fn from(planter: &Planter) -> Self {
        let Planter { unit, depth_lever, .. } = planter;
        Self { opener: Some(unit.opener), lever: *depth_lever, coulter: unit.coulter }
    }
}

/// Works out the depth to plant at.
///
/// Corn starts at 2 in and is never set shallower than 1.5 in; soybean starts at 1.25 in and is
/// never advised deeper than 2 in. Cool and wet soil, dryness, texture, residue, hairpins and date
/// each move the start by a step, with their reason. The result never leaves the safe range. The
/// lever asks for what worn discs lose.
pub fn depth(c: &Conditions, iron: impl Into<FurrowIron>, k: &Coefficients) -> Advice<DepthAdvice> {
    let iron = iron.into();
    let field = Field::of(c, iron.coulter, k);
    let mut plan = match c.crop {
        Crop::Corn => corn(&field, k),
        Crop::Soybean => soybean(&field, k),
    };
    // A practice's own figures for two kinds of weather may cross.
    let (low, high) = (plan.safe.0, plan.safe.1.max(plan.safe.0));
    let start = (plan.base + plan.moved()).clamp(low, high);
    let lost = iron.opener.map_or_else(|| inches(0.0), |opener| opener.depth_lost());
    let furrow = inches(start);
    let lever =
        iron.lever.and_then(|lever| notch(&lever, furrow, lost, (inches(low), inches(high))));
    if let Some(position) = lever {
        plan.watch.extend(notch_words(position, furrow, (low, high)));
    }
    plan.watch.extend([UNDER_THE_MAT, DIG_AND_SEE]);
    let steps = steps_of(&plan, start, lost);
    Advice {
        choice: DepthAdvice {
            start: furrow,
            safe_low: inches(low),
            safe_high: inches(high),
            lever,
            lever_depth: furrow + lost,
            base: inches(plan.base),
            moves: plan.moves,
            steps,
        },
        because: plan.because,
        watch: plan.watch,
        assumed: field.assumed,
    }
}

/// What the depth hangs on, as far as it is known.
struct Field {
    moisture: Moisture,
    /// Known to be cool, known to be warm, or nobody knows.
    cool: Option<bool>,
    texture: Option<TextureGroup>,
    mat: f64,
    /// With the coulter as advised.
    hairpins: HairpinRisk,
    date: Option<NaiveDate>,
    assumed: Vec<Assumed>,
}

impl Field {
    fn of(c: &Conditions, fitted: Option<Coulter>, k: &Coefficients) -> Self {
        let cool =
            seed_zone(c, k).map(|zone| zone.likely.get::<degree_fahrenheit>() < k.cool_soil.value);
        Self {
            moisture: c.moisture.unwrap_or(Moisture::Moist),
            cool,
            texture: c.texture.map(TextureClass::group),
            mat: mat_fraction(c, k).likely,
            hairpins: coulter(c, fitted, k).choice.hairpins,
            date: c.planting_date,
            assumed: assumed_of(c, cool),
        }
    }

    const fn is_wet(&self) -> bool {
        matches!(self.moisture, Moisture::Wet | Moisture::AtCapacity)
    }

    /// Whether the day of planting lies before a day of the year.
    fn before(&self, day: f64) -> bool {
        self.date.is_some_and(|date| f64::from(date.ordinal()) < day)
    }

    /// Whether the day of planting lies after a day of the year.
    fn after(&self, day: f64) -> bool {
        self.date.is_some_and(|date| f64::from(date.ordinal()) > day)
    }
}

fn assumed_of(c: &Conditions, cool: Option<bool>) -> Vec<Assumed> {
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
        (
            cool.is_none(),
            "soil temperature at seed depth",
            "50 °F or more",
            "read a soil thermometer at seed depth, under the cover",
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

fn steps_of(plan: &Plan, start: f64, lost: Length) -> Vec<Step> {
    let (low, high) = plan.safe;
    vec![
        Step {
            step: "planting depth".into(),
            formula: "d_0 + shifts, inside the safe range".into(),
            inputs: vec![
                Input::new("d_0", plan.base, "[in_i]"),
                Input::new("shifts", plan.moved(), "[in_i]"),
            ],
            value: start,
            unit: "[in_i]".into(),
            low: Some(low),
            high: Some(high),
            source: plan.base_from.source.clone(),
            mark: plan.base_from.mark.max(Mark::Proposal),
        },
        Step {
            step: "depth on the lever".into(),
            formula: "d + (D_new - D) / 2".into(),
            inputs: vec![
                Input::new("d", start, "[in_i]"),
                Input::new("(D_new - D) / 2", lost.get::<inch>(), "[in_i]"),
            ],
            value: start + lost.get::<inch>(),
            unit: "[in_i]".into(),
            low: None,
            high: None,
            source: sources::GEOMETRY.into(),
            mark: Mark::Derived,
        },
    ]
}

fn inches(x: f64) -> Length {
    Length::from_si(x * 0.0254)
}

const UNDER_THE_MAT: Reason = Reason::fixed(
    "measure depth from the soil under the mat, not from the top of the residue",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const DIG_AND_SEE: Reason = Reason::fixed(
    "real depth changes with the soil: dig in every field",
    Mark::Read,
    sources::PURDUE_DEPTH,
);
