//! Planting depth: from the crop, then moved by each condition inside the safe range.

mod corn;
mod lever;
mod soybean;

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};
use uom::si::length::inch;
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use self::corn::corn;
use self::lever::{notch, notch_outside};
use self::soybean::soybean;
use crate::conditions::{
    Conditions, Crop, HairpinRisk, Moisture, TextureGroup, hairpins, mat_fraction, seed_zone,
};
use crate::planter::{LeverPosition, Planter};
use crate::provenance::{
    Advice, Assumed, Coefficient, Coefficients, Input, Mark, Reason, Step, sources,
};
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
    /// The calculation.
    pub steps: Vec<Step>,
}

/// Works out the depth to plant at.
///
/// Corn starts at 2 in and is never set shallower than 1.5 in; soybean starts at 1.25 in and is
/// never advised deeper than 2 in. Cool and wet soil, dryness, texture, residue and date each move
/// the start by a step, with their reason. The result never leaves the safe range.
pub fn depth(c: &Conditions, p: &Planter, k: &Coefficients) -> Advice<DepthAdvice> {
    let field = Field::of(c, p, k);
    let mut plan = match c.crop {
        Crop::Corn => corn(&field, k),
        Crop::Soybean => soybean(&field, k),
    };
    let (low, high) = plan.safe;
    let start = (plan.base + plan.moved).clamp(low, high);
    let lost = p.unit.opener.depth_lost();
    let furrow = inches(start);
    let lever =
        p.depth_lever.and_then(|lever| notch(&lever, furrow, lost, (inches(low), inches(high))));
    if let Some(position) = lever {
        notch_outside(position, low, high, &mut plan.watch);
    }
    plan.watch.push(UNDER_THE_MAT);
    plan.watch.push(DIG_AND_SEE);
    let steps = steps_of(&plan, start, lost);
    Advice {
        choice: DepthAdvice {
            start: furrow,
            safe_low: inches(low),
            safe_high: inches(high),
            lever,
            lever_depth: furrow + lost,
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
    hairpins: HairpinRisk,
    date: Option<NaiveDate>,
    assumed: Vec<Assumed>,
}

impl Field {
    fn of(c: &Conditions, p: &Planter, k: &Coefficients) -> Self {
        let mut assumed = Vec::new();
        let moisture = c.moisture.unwrap_or_else(|| {
            assumed.push(unknown(
                "moisture at seed depth",
                "moist",
                "squeeze soil from seed depth and report how it feels",
            ));
            Moisture::Moist
        });
        if c.texture.is_none() {
            assumed.push(unknown(
                "texture of the topsoil",
                "medium",
                "feel the texture, or look at the soil survey",
            ));
        }
        let cool =
            seed_zone(c, k).map(|zone| zone.likely.get::<degree_fahrenheit>() < k.cool_soil.value);
        if cool.is_none() {
            assumed.push(unknown(
                "soil temperature at seed depth",
                "50 °F or more",
                "read a soil thermometer at seed depth, under the cover",
            ));
        }
        Self {
            moisture,
            cool,
            texture: c.texture.map(crate::conditions::TextureClass::group),
            mat: mat_fraction(c, k).likely,
            hairpins: hairpins(c, p.unit.coulter.is_some(), k).risk,
            date: c.planting_date,
            assumed,
        }
    }

    const fn is_wet(&self) -> bool {
        matches!(self.moisture, Moisture::Wet | Moisture::AtCapacity)
    }

    fn before(&self, month: u32, day: u32) -> bool {
        self.date.is_some_and(|d| (d.month(), d.day()) < (month, day))
    }

    fn after(&self, month: u32, day: u32) -> bool {
        self.date.is_some_and(|d| (d.month(), d.day()) > (month, day))
    }
}

/// A depth in the making, in inches.
struct Plan {
    base: f64,
    base_from: Coefficient,
    moved: f64,
    safe: (f64, f64),
    because: Vec<Reason>,
    watch: Vec<Reason>,
}

impl Plan {
    fn from(k: Coefficient, reason: Reason) -> Self {
        Self {
            base: k.value,
            base_from: k,
            moved: 0.0,
            safe: (k.low, k.high),
            because: vec![reason],
            watch: Vec::new(),
        }
    }

    fn shift(&mut self, by: f64, reason: Reason) {
        self.moved += by;
        self.because.push(reason);
    }
}

fn steps_of(plan: &Plan, start: f64, lost: Length) -> Vec<Step> {
    let (low, high) = plan.safe;
    vec![
        Step {
            step: "planting depth".into(),
            formula: "d_0 + shifts, inside the safe range".into(),
            inputs: vec![
                Input::new("d_0", plan.base, "[in_i]"),
                Input::new("shifts", plan.moved, "[in_i]"),
            ],
            value: start,
            unit: "[in_i]".into(),
            low: Some(low),
            high: Some(high),
            source: plan.base_from.source.into(),
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

fn unknown(what: &'static str, used: &'static str, instead: &'static str) -> Assumed {
    Assumed {
        what: what.into(),
        used: used.into(),
        range: None,
        instead: instead.into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    }
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
