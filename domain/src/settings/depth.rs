//! Planting depth: from the crop, then moved by each condition inside the safe range.

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};
use uom::si::length::inch;
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use crate::conditions::{
    Conditions, Crop, HairpinRisk, Moisture, TextureGroup, hairpins, mat_fraction, seed_zone,
};
use crate::planter::{DepthLever, LeverPosition, Planter};
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

fn corn(field: &Field, k: &Coefficients) -> Plan {
    let mut plan = Plan::from(k.depth_corn, CORN_BASE);
    let step = k.depth_shift.value;
    plan.because.push(CORN_FLOOR);
    match field.moisture {
        Moisture::Dry => dry_corn(field, k, &mut plan),
        Moisture::SlightlyMoist => plan.shift(step, CORN_DRYING),
        Moisture::Moist if field.cool == Some(true) => plan.shift(-step, CORN_COOL),
        Moisture::Moist => {}
        Moisture::Wet | Moisture::AtCapacity => wet_corn(field, k, &mut plan),
    }
    if field.cool.is_none() && field.before(4, 25) && field.moisture != Moisture::Dry {
        plan.shift(-step, CORN_EARLY);
    }
    if field.texture == Some(TextureGroup::Coarse) && !field.is_wet() {
        plan.shift(step, COARSE);
    }
    if field.hairpins == HairpinRisk::High {
        plan.shift(step, HAIRPINS);
    }
    plan
}

fn dry_corn(field: &Field, k: &Coefficients, plan: &mut Plan) {
    let dry = k.depth_corn_dry;
    plan.safe.0 = dry.low;
    plan.shift(dry.value - plan.base, CORN_DRY);
    if field.mat < LITTLE_RESIDUE {
        plan.safe.1 = dry.high;
        plan.because.push(CORN_DRY_BARE);
    }
}

fn wet_corn(field: &Field, k: &Coefficients, plan: &mut Plan) {
    if field.cool == Some(true) {
        let cool = k.depth_corn_cool_wet;
        plan.safe.1 = cool.high;
        plan.shift(cool.value - plan.base, CORN_COOL_WET);
    } else {
        plan.shift(-k.depth_shift.value, CORN_WET);
    }
    plan.watch.push(SHALLOW_OPENS);
}

fn soybean(field: &Field, k: &Coefficients) -> Plan {
    let mut plan = Plan::from(k.depth_soybean, SOYBEAN_BASE);
    let step = k.depth_shift.value;
    match field.moisture {
        Moisture::Dry => {
            plan.safe.1 = k.depth_soybean_deep.value;
            plan.shift(2.0 * step, SOYBEAN_DRY);
        }
        Moisture::SlightlyMoist => plan.shift(step, SOYBEAN_DRYING),
        Moisture::Moist => {}
        Moisture::Wet | Moisture::AtCapacity => plan.shift(-step, SOYBEAN_MOIST),
    }
    match field.texture {
        Some(TextureGroup::Coarse) => {
            plan.safe.1 = k.depth_soybean_deep.value;
            plan.shift(step, SOYBEAN_SAND);
        }
        Some(TextureGroup::Fine) if field.moisture >= Moisture::Moist => {
            plan.shift(-step, SOYBEAN_FINE);
        }
        _ => {}
    }
    let dry = field.moisture <= Moisture::SlightlyMoist;
    if field.mat > MUCH_RESIDUE && !dry {
        plan.shift(-step, SOYBEAN_RESIDUE);
    }
    if field.cool == Some(true) || field.cool.is_none() && field.before(5, 1) {
        plan.shift(-step, SOYBEAN_EARLY);
    } else if field.after(6, 1) {
        plan.shift(step, SOYBEAN_LATE);
    }
    plan.watch.push(SOYBEAN_DEEPER_STUDY);
    plan.watch.push(SOYBEAN_NEVER);
    plan
}

/// The notch for a depth. If the nearest one leaves the safe range, the next one inside is taken.
fn notch(
    lever: &DepthLever,
    depth: Length,
    lost: Length,
    (low, high): (Length, Length),
) -> Option<LeverPosition> {
    let first = lever.nearest(depth, lost)?;
    let slack = 1e-6;
    let inside =
        |p: &LeverPosition| p.depth.si() >= low.si() - slack && p.depth.si() <= high.si() + slack;
    if inside(&first) {
        return Some(first);
    }
    let other = if first.depth.si() < low.si() {
        first.depth + lever.step
    } else {
        first.depth - lever.step
    };
    lever.nearest(other, lost).filter(inside).or(Some(first))
}

fn notch_outside(position: LeverPosition, low: f64, high: f64, watch: &mut Vec<Reason>) {
    let depth = position.depth.get::<inch>();
    let number = position.notch;
    if depth < low - 1e-4 || depth > high + 1e-4 {
        watch.push(Reason::made(
            format!(
                "notch {number} gives {depth:.2} in with these discs, outside {low} to {high} in: \
                 no notch of this lever fits; new discs or another lever setting are needed"
            ),
            Mark::Derived,
            sources::GEOMETRY,
        ));
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

/// Share of the path under residue below which there is little, and above which there is much.
const LITTLE_RESIDUE: f64 = 0.3;
const MUCH_RESIDUE: f64 = 0.6;

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
const CORN_BASE: Reason = Reason::fixed(
    "corn: 2 in is the target, 1.5 to 2.5 in the usual range",
    Mark::Read,
    sources::MISSOURI_DEPTH,
);
const CORN_FLOOR: Reason = Reason::fixed(
    "corn is not set shallower than 1.5 in at any date or in any soil",
    Mark::Read,
    sources::OHIO_DEPTH,
);
const CORN_DRY: Reason = Reason::fixed(
    "dry soil: at least 2 in, to reach even moisture",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const CORN_DRY_BARE: Reason = Reason::fixed(
    "with dry soil and little residue down to 3 in",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const CORN_DRYING: Reason = Reason::fixed(
    "the surface is drying: a little deeper keeps seed in even moisture",
    Mark::Read,
    sources::PURDUE_DEPTH,
);
const CORN_COOL: Reason = Reason::fixed(
    "cool soil: a little shallower is warmer, inside the all-purpose 1.5 to 2 in",
    Mark::Proposal,
    sources::PURDUE_DEPTH,
);
const CORN_WET: Reason = Reason::fixed(
    "wet soil: a little shallower, inside the all-purpose 1.5 to 2 in",
    Mark::Proposal,
    sources::PURDUE_DEPTH,
);
const CORN_COOL_WET: Reason =
    Reason::fixed("cool and wet: 1.5 in", Mark::Read, sources::PENN_RESIDUE_NOTE);
const CORN_EARLY: Reason = Reason::fixed(
    "early date and no soil temperature: taken as cool",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const SHALLOW_OPENS: Reason = Reason::fixed(
    "shallow slots in wet soil open up again: angled closing wheels work best at about 2 in",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL_LATER,
);
const COARSE: Reason = Reason::fixed(
    "coarse soil dries fast: a little deeper",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const HAIRPINS: Reason = Reason::fixed(
    "hairpins are likely: a little deeper the disc meets the residue at a better angle",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const SOYBEAN_BASE: Reason = Reason::fixed(
    "soybean: 1 to 1.5 in is the standard range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_DRY: Reason = Reason::fixed(
    "dry soil: deeper only to reach moisture, not over 2 in for best yield",
    Mark::Read,
    sources::IOWA_SOYBEAN_DEPTH,
);
const SOYBEAN_DRYING: Reason = Reason::fixed(
    "drying soil: the deep end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_MOIST: Reason = Reason::fixed(
    "wet soil: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_SAND: Reason = Reason::fixed(
    "coarse soil: the deep end, on sand up to 2 in",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_FINE: Reason = Reason::fixed(
    "fine, moist soil: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_RESIDUE: Reason = Reason::fixed(
    "much residue: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_EARLY: Reason = Reason::fixed(
    "early or cool: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_LATE: Reason = Reason::fixed(
    "late planting: the deep end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_DEEPER_STUDY: Reason = Reason::fixed(
    "sources differ: a three-year study in one state found 1.75 in best",
    Mark::Read,
    sources::NEBRASKA_SOYBEAN_DEPTH,
);
const SOYBEAN_NEVER: Reason = Reason::fixed(
    "soybean is never planted beyond 2.5 in",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
