//! How much residue and green mat the opener meets.

use super::cover::{assumed_of, green_fraction, pound_per_acre, span_of};
use super::cover_crop::{CoverCrop, CoverState};
use super::report::Conditions;
use super::residue::{MOST_COVER, covered, residue_cover};
use crate::provenance::{Assumed, Coefficient, Coefficients, Input, Mark, Step, sources};
use crate::stats::Range;

/// How much of the opener's path meets residue and mat, 0 to 1.
///
/// 1 stands for whole corn residue or a full green mat.
#[derive(Debug, Clone, PartialEq)]
pub struct MatFraction {
    /// Least that is likely.
    pub low: f64,
    /// The figure to work with.
    pub likely: f64,
    /// Most that is likely.
    pub high: f64,
    /// What nobody observed.
    pub assumed: Vec<Assumed>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// How much of the opener's path meets residue and mat.
///
/// 1 - (1 - c1)(1 - c2) of residue and cover crop. A standing green cover counts no further than
/// the ground it covers; rolled or dying it lies on the ground by its mass; dead it counts as
/// straw. Never falls with biomass or residue.
pub fn mat_fraction(c: &Conditions, k: &Coefficients) -> MatFraction {
    let dead = residue_cover(c, k);
    let mut assumed = dead.assumed;
    let mut steps = dead.steps;
    let mut mat = Range::exact(0.0);
    if let Some(cover) = &c.cover {
        mat = mat_of(cover, k);
        steps.push(mat_step(cover, &mat, k));
        assumed.extend(assumed_of(cover));
    }
    let both = |residue: f64, green: f64| 1.0 - (1.0 - residue) * (1.0 - green);
    let (low, high) = (both(dead.low, mat.low), both(dead.high, mat.high));
    let likely = both(dead.likely, mat.likely);
    steps.push(Step {
        step: "share of the opener's path under residue and mat".into(),
        formula: "1 - (1 - c_res) (1 - c_mat)".into(),
        inputs: vec![Input::new("c_res", dead.likely, "1"), Input::new("c_mat", mat.likely, "1")],
        value: likely,
        unit: "1".into(),
        low: Some(low),
        high: Some(high),
        source: sources::OWN_CHOICE.into(),
        mark: Mark::Proposal,
    });
    MatFraction { low, likely, high, assumed, steps }
}

fn mat_of(cover: &CoverCrop, k: &Coefficients) -> Range {
    let span = span_of(cover, k);
    let to_si = pound_per_acre();
    let straw = straw(cover, k);
    let green = |mass: f64| green_fraction(mass * to_si * 10.0);
    match cover.state {
        Some(CoverState::DeadDamp | CoverState::DeadCrisp) => Range {
            low: covered(span.mass.low * to_si, straw.low),
            likely: covered(span.mass.likely * to_si, straw.value),
            high: covered(span.mass.high * to_si, straw.high),
        },
        Some(CoverState::GreenRolled | CoverState::Dying) => span.mass.map(green),
        Some(CoverState::GreenStanding) | None => Range {
            low: green(span.mass.low).min(span.ground.low),
            likely: green(span.mass.likely).min(span.ground.likely),
            high: green(span.mass.high).min(span.ground.high),
        },
    }
}

fn mat_step(cover: &CoverCrop, mat: &Range, k: &Coefficients) -> Step {
    let span = span_of(cover, k);
    let mass = span.mass.likely * pound_per_acre();
    let green = Input::new("B", mass * 10.0, "t/har");
    let (formula, source, mark, inputs) = match cover.state {
        Some(CoverState::DeadDamp | CoverState::DeadCrisp) => {
            let cf = Input::new("cf", straw(cover, k).value, "m2/kg");
            let inputs = vec![cf, Input::new("B", mass, "kg/m2")];
            let formula = if mat.likely < MOST_COVER {
                "1 - exp(-cf B)"
            } else {
                "1 - exp(-cf B), at most 0.999"
            };
            (formula, sources::WEPP_MEMORY, Mark::FromMemory, inputs)
        }
        Some(CoverState::GreenRolled | CoverState::Dying) => {
            ("B / (B + exp(1.175 - 1.748 B))", sources::GREEN_COVER, Mark::Read, vec![green])
        }
        Some(CoverState::GreenStanding) | None => (
            "min( B / (B + exp(1.175 - 1.748 B)), ground cover )",
            sources::GREEN_COVER,
            Mark::Read,
            vec![green, Input::new("ground cover", span.ground.likely, "1")],
        ),
    };
    Step {
        step: "share of the path under the cover crop".into(),
        formula: formula.into(),
        inputs,
        value: mat.likely,
        unit: "1".into(),
        low: Some(mat.low),
        high: Some(mat.high),
        source: source.into(),
        mark: mark.max(Mark::FromMemory),
    }
}

/// Ground that dead cover covers for its mass.
const fn straw<'k>(cover: &CoverCrop, k: &'k Coefficients) -> &'k Coefficient {
    if cover.species.is_grass() { &k.cover_factor_small_grain } else { &k.cover_factor_soybean }
}
