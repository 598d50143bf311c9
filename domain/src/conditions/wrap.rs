//! The risk that stems wind around row cleaners.

use serde::{Deserialize, Serialize};

use super::cover::{height_in, span_of};
use super::cover_crop::{CoverCrop, CoverState};
use super::report::Conditions;
use crate::provenance::{Coefficients, Mark, Reason, sources};

/// How likely stems are to wrap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WrapRisk {
    /// No cover, or a short one.
    Low,
    /// Watch the cleaners.
    Some,
    /// Expect it.
    High,
}

/// A risk with its causes.
#[derive(Debug, Clone, PartialEq)]
pub struct Wrapping {
    /// The class.
    pub risk: WrapRisk,
    /// What causes it.
    pub causes: Vec<Reason>,
}

/// The wrap risk of a field.
///
/// Points: dying 2, alive and tall (18 in and more) 1, damp and tall 1, heavy (4,000 lb/ac of dry
/// matter and more) 1; a cover below 6 in does not wrap. 1 point is some, 2 are high (points are
/// this project's own choice, causes have their sources).
pub fn wrapping(c: &Conditions, k: &Coefficients) -> Wrapping {
    let none = Wrapping { risk: WrapRisk::Low, causes: Vec::new() };
    let Some(cover) = &c.cover else {
        return none;
    };
    if cover.height.is_some_and(|h| height_in(h) < k.short_cover.value) {
        return Wrapping { causes: vec![SHORT], ..none };
    }
    let causes = causes(cover, k);
    let points: u32 = causes.iter().map(|(worth, _)| worth).sum();
    let risk = match points {
        0 => WrapRisk::Low,
        1 => WrapRisk::Some,
        _ => WrapRisk::High,
    };
    Wrapping { risk, causes: causes.into_iter().map(|(_, reason)| reason).collect() }
}

fn causes(cover: &CoverCrop, k: &Coefficients) -> Vec<(u32, Reason)> {
    let mut found = Vec::new();
    let span = span_of(cover, k);
    let tall = span.height.likely >= k.tall_cover.value;
    let dead = matches!(cover.state, Some(CoverState::DeadDamp | CoverState::DeadCrisp));
    match cover.state {
        Some(CoverState::Dying) => found.push((2, YELLOW)),
        Some(CoverState::GreenStanding | CoverState::GreenRolled) | None if tall => {
            found.push((1, GREEN_TALL));
        }
        Some(CoverState::DeadDamp) if tall => found.push((1, DAMP_LONG)),
        _ => {}
    }
    if span.mass.likely >= k.heavy_cover.value && !(dead && found.is_empty()) {
        found.push((1, HEAVY));
    }
    found
}

const SHORT: Reason = Reason::fixed(
    "cover below 6 in should not wrap",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const YELLOW: Reason =
    Reason::fixed("yellowing rye is reported to wrap row cleaners", Mark::Read, sources::IOWA_RYE);
const GREEN_TALL: Reason = Reason::fixed(
    "tall living stems wrap around row cleaners and plug them",
    Mark::Read,
    sources::IOWA_ROLL,
);
const DAMP_LONG: Reason = Reason::fixed(
    "long damp stems wind around turning parts",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const HEAVY: Reason =
    Reason::fixed("a heavy cover wraps fingered row cleaners", Mark::Read, sources::PENN_GUIDE);
