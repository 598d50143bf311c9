//! The risk that stems wind around row cleaners.

use serde::{Deserialize, Serialize};

use super::cover::{height_in, span_of};
use super::cover_crop::{CoverCrop, CoverSpecies, CoverState, RollDirection};
use super::points::{RiskPoint, causes, total};
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
    /// What causes it, with what each counts.
    pub points: Vec<RiskPoint>,
    /// The sum of the points.
    pub total: f64,
}

impl Wrapping {
    /// The reasons alone.
    pub fn causes(&self) -> Vec<Reason> {
        causes(&self.points)
    }
}

/// The wrap risk of a field.
///
/// A sum of points, each a row of the table of coefficients (`wrap_...`) with its own reason: dying
/// cover, tall living stems, long damp ones, vines, the direction of rolling, a heavy cover. A
/// cover below 6 in does not wrap. Points are this project's own choice; causes have their
/// sources.
pub fn wrapping(c: &Conditions, k: &Coefficients) -> Wrapping {
    let Some(cover) = &c.cover else {
        return Wrapping { risk: WrapRisk::Low, points: Vec::new(), total: 0.0 };
    };
    if cover.height.is_some_and(|h| height_in(h) < k.short_cover.value) {
        let points = vec![RiskPoint { worth: 0.0, because: SHORT }];
        return Wrapping { risk: WrapRisk::Low, points, total: 0.0 };
    }
    let points = by_cover(cover, k);
    let total = total(&points);
    let risk = if total < k.wrap_some.value {
        WrapRisk::Low
    } else if total < k.wrap_high.value {
        WrapRisk::Some
    } else {
        WrapRisk::High
    };
    Wrapping { risk, points, total }
}

fn by_cover(cover: &CoverCrop, k: &Coefficients) -> Vec<RiskPoint> {
    let mut found = Vec::new();
    let span = span_of(cover, k);
    let tall = span.height.likely >= k.tall_cover.value;
    let crisp = cover.state == Some(CoverState::DeadCrisp);
    let dead = matches!(cover.state, Some(CoverState::DeadDamp | CoverState::DeadCrisp));
    match cover.state {
        Some(CoverState::Dying) => found.push(RiskPoint::of(&k.wrap_dying, YELLOW)),
        Some(CoverState::GreenStanding | CoverState::GreenRolled) | None if tall => {
            found.push(RiskPoint::of(&k.wrap_green_tall, GREEN_TALL));
        }
        Some(CoverState::DeadDamp) if tall => {
            found.push(RiskPoint::of(&k.wrap_damp_long, DAMP_LONG));
        }
        _ => {}
    }
    let vines = matches!(cover.species, CoverSpecies::HairyVetch | CoverSpecies::LegumeMix);
    if vines && !crisp {
        found.push(RiskPoint::of(&k.wrap_vines, VINES));
    }
    let upright = cover.state == Some(CoverState::GreenStanding);
    if cover.rolled == Some(RollDirection::Across) && !upright && !crisp {
        found.push(RiskPoint::of(&k.wrap_across, ACROSS));
    }
    if span.mass.likely >= k.heavy_cover.value && !(dead && found.is_empty()) {
        found.push(RiskPoint::of(&k.wrap_heavy, HEAVY));
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
const VINES: Reason = Reason::fixed(
    "vining legumes hang together and wind around turning parts",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const ACROSS: Reason = Reason::fixed(
    "cover rolled across or at an angle to the rows builds up on what runs through it",
    Mark::Read,
    sources::SARE_SOUTHEAST,
);
const HEAVY: Reason =
    Reason::fixed("a heavy cover wraps fingered row cleaners", Mark::Read, sources::PENN_GUIDE);
