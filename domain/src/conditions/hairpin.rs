//! The risk that residue is tucked into the slot instead of being cut.

use serde::{Deserialize, Serialize};

use super::cover::span_of;
use super::cover_crop::{CoverCrop, CoverStage, CoverState, RollDirection};
use super::mat::mat_fraction;
use super::points::{RiskPoint, causes, total};
use super::report::{Conditions, Moisture, ResidueFeel, ResidueSpread, StrengthClass};
use crate::provenance::{Coefficients, Mark, Reason, sources};
use crate::quantity::{System, bounds};

/// How likely hairpins are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HairpinRisk {
    /// Residue cuts or stands clear.
    Low,
    /// Look for tucked straw in every dig.
    Some,
    /// Expect it.
    High,
}

/// A risk with its causes.
#[derive(Debug, Clone, PartialEq)]
pub struct Hairpins {
    /// The class.
    pub risk: HairpinRisk,
    /// What causes it, and what speaks against it, with what each counts.
    pub points: Vec<RiskPoint>,
    /// The sum of the points, 0 to 3.
    pub total: f64,
    /// The points at which it ends.
    pub most: f64,
    /// What would lower it.
    pub lower: Vec<Reason>,
}

impl Hairpins {
    /// The reasons alone.
    pub fn causes(&self) -> Vec<Reason> {
        causes(&self.points)
    }
}

/// Whether the surface is soft: a cone reading below the soft limit, else what a knife or probe
/// said, else wet soil.
pub fn is_soft(c: &Conditions, k: &Coefficients) -> bool {
    is_loose(c, k).unwrap_or(matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity)))
}

/// Whether the surface is loose, where somebody probed it.
pub fn is_loose(c: &Conditions, k: &Coefficients) -> Option<bool> {
    let by_cone = c
        .penetration
        .map(|cone| bounds::PENETRATION_RESISTANCE.show(cone, System::Us).0 < k.soft_soil.value);
    by_cone.or_else(|| c.strength_class.map(|class| class == StrengthClass::Loose))
}

/// Whether residue bends instead of breaking: by feel, or because the cover is half dead or damp.
pub fn is_tough(c: &Conditions) -> bool {
    let state = c.cover.and_then(|cover| cover.state);
    matches!(c.residue_feel, Some(ResidueFeel::Pliable | ResidueFeel::Wet))
        || matches!(state, Some(CoverState::Dying | CoverState::DeadDamp))
}

/// The hairpin risk of a field, with or without a coulter ahead of the opener.
///
/// A sum of points, each a row of the table of coefficients (`hairpin_...`) with its own reason:
/// state of the cover, a heavy or stiff mat that lies, the direction of rolling, feel of the residue
/// at the hour of planting or, where nobody felt it, the hour, how the residue lies, soft soil, and
/// a coulter on it. Without residue there is nothing to tuck. Points are this project's own
/// choice; each cause has its source.
pub fn hairpins(c: &Conditions, coulter_ahead: bool, k: &Coefficients) -> Hairpins {
    if mat_fraction(c, k).likely < k.little_residue.value {
        let points = vec![RiskPoint { worth: 0.0, because: NOTHING_TO_TUCK }];
        let most = k.hairpin_most.value;
        return Hairpins { risk: HairpinRisk::Low, points, total: 0.0, most, lower: Vec::new() };
    }
    let mut points = c.cover.as_ref().map_or_else(Vec::new, |cover| by_cover(cover, k));
    points.extend(by_residue(c, k));
    if is_soft(c, k) {
        points.push(RiskPoint::of(&k.hairpin_soft, SOFT));
        if coulter_ahead {
            points.push(RiskPoint::of(&k.hairpin_coulter, COULTER_ON_SOFT));
        }
    }
    let most = k.hairpin_most.value;
    let total = total(&points).min(most);
    let risk = if total < k.hairpin_some.value {
        HairpinRisk::Low
    } else if total < k.hairpin_high.value {
        HairpinRisk::Some
    } else {
        HairpinRisk::High
    };
    let lower = if risk == HairpinRisk::Low { Vec::new() } else { remedies(c, k) };
    Hairpins { risk, points, total, most, lower }
}

fn by_cover(cover: &CoverCrop, k: &Coefficients) -> Vec<RiskPoint> {
    let state = cover.state;
    let mut points: Vec<RiskPoint> = match state {
        Some(CoverState::Dying) => vec![RiskPoint::of(&k.hairpin_dying, DYING)],
        Some(CoverState::DeadDamp) => vec![RiskPoint::of(&k.hairpin_damp, DAMP_MAT)],
        Some(CoverState::GreenStanding) => vec![RiskPoint::of(&k.hairpin_standing, STANDING)],
        Some(CoverState::DeadCrisp) => vec![RiskPoint::of(&k.hairpin_crisp, CRISP_MAT)],
        Some(CoverState::GreenRolled) | None => Vec::new(),
    };
    let lies =
        matches!(state, Some(CoverState::Dying | CoverState::DeadDamp | CoverState::GreenRolled));
    let heavy = span_of(cover, k).mass.likely >= k.heavy_cover.value;
    let headed = cover.stage.is_some_and(|stage| stage >= CoverStage::Heading);
    let upright = state == Some(CoverState::GreenStanding);
    if lies && heavy {
        points.push(RiskPoint::of(&k.hairpin_heavy_mat, HEAVY_MAT));
    }
    if lies && headed {
        points.push(RiskPoint::of(&k.hairpin_stiff, STIFF));
    }
    if cover.rolled == Some(RollDirection::Across) && !upright {
        points.push(RiskPoint::of(&k.hairpin_across, ACROSS));
    }
    points
}

fn by_residue(c: &Conditions, k: &Coefficients) -> Vec<RiskPoint> {
    let feel = match c.residue_feel {
        Some(ResidueFeel::Wet) => Some(RiskPoint::of(&k.hairpin_wet, WET_RESIDUE)),
        Some(ResidueFeel::Pliable) => Some(RiskPoint::of(&k.hairpin_pliable, PLIABLE)),
        Some(ResidueFeel::Crisp) => None,
        None => dewy(c, k).then(|| RiskPoint::of(&k.hairpin_dew, DEW)),
    };
    let spread = match c.residue_spread {
        Some(ResidueSpread::Piles) => Some(RiskPoint::of(&k.hairpin_piles, PILES)),
        Some(ResidueSpread::Banded) => Some(RiskPoint::of(&k.hairpin_bands, BANDS)),
        Some(ResidueSpread::Even) | None => None,
    };
    feel.into_iter().chain(spread).collect()
}

/// Whether planting is meant to start in the hours of dew.
fn dewy(c: &Conditions, k: &Coefficients) -> bool {
    c.start_hour.is_some_and(|hour| {
        let hour = f64::from(hour);
        hour < k.dew_gone.value || hour >= k.dew_falls.value
    })
}

/// What would lower the risk, the gentlest first.
fn remedies(c: &Conditions, k: &Coefficients) -> Vec<Reason> {
    let state = c.cover.and_then(|cover| cover.state);
    let damp = is_tough(c) || c.residue_feel.is_none();
    let mut list = Vec::new();
    if damp && dewy(c, k) {
        list.push(start_later(k));
    } else if c.start_hour.is_none() && is_tough(c) {
        list.push(WAIT_FOR_SUN);
    }
    if matches!(state, Some(CoverState::Dying | CoverState::DeadDamp)) {
        list.push(wait_until_crisp(k));
    }
    if c.residue_spread == Some(ResidueSpread::Piles) {
        list.push(SPREAD_PILES);
    }
    list.push(SHARP);
    list
}

fn start_later(k: &Coefficients) -> Reason {
    let from = &k.dew_gone;
    Reason::made(
        format!(
            "start after about {:.0} o'clock: straw is toughest from dew-fall to mid-morning and cuts well from late morning to early evening",
            from.value
        ),
        from.mark,
        from.source.clone(),
    )
}

fn wait_until_crisp(k: &Coefficients) -> Reason {
    let days = &k.days_to_crisp;
    Reason::made(
        format!(
            "{:.0} to {:.0} days after the kill a cover is dry and easy to cut; living and standing cuts well too",
            days.low, days.high
        ),
        days.mark,
        days.source.clone(),
    )
}

const NOTHING_TO_TUCK: Reason =
    Reason::fixed("there is next to no residue to tuck", Mark::Proposal, sources::OWN_CHOICE);
const DYING: Reason = Reason::fixed(
    "dying, yellow cover is tough and tucks into the slot",
    Mark::Read,
    sources::NRCS_COULTERS,
);
const DAMP_MAT: Reason = Reason::fixed(
    "a dead, damp mat is tough as rope and tucks into the slot",
    Mark::Read,
    sources::NRCS_COULTERS,
);
const STANDING: Reason = Reason::fixed(
    "living, standing cover leaves little straw to tuck",
    Mark::Read,
    sources::PENN_GUIDE,
);
const CRISP_MAT: Reason =
    Reason::fixed("a dead, crisp mat cuts well", Mark::Read, sources::NRCS_COULTERS);
const HEAVY_MAT: Reason = Reason::fixed(
    "a heavy cover that lies makes a mat that does not dry",
    Mark::Read,
    sources::NRCS_COULTERS,
);
const STIFF: Reason = Reason::fixed(
    "stems at heading and beyond are stiff and fibrous",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const ACROSS: Reason = Reason::fixed(
    "cover rolled across or at an angle to the rows builds up and hairpins: roll parallel to the rows",
    Mark::Read,
    sources::SARE_SOUTHEAST,
);
const WET_RESIDUE: Reason = Reason::fixed(
    "wet residue does not cut: wait for the dew to go",
    Mark::FromMemory,
    sources::RESIDUE_HOURS,
);
const PLIABLE: Reason = Reason::fixed(
    "residue that bends and does not snap is harder to cut",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const DEW: Reason = Reason::fixed(
    "the start lies in the hours of dew, when straw is toughest",
    Mark::FromMemory,
    sources::RESIDUE_HOURS,
);
const PILES: Reason = Reason::fixed(
    "residue in piles is thicker than an opener can cut",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const BANDS: Reason = Reason::fixed(
    "residue in bands is thick behind the combine: dig there",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SOFT: Reason = Reason::fixed(
    "soft soil gives way under the straw instead of holding it for the blade",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const COULTER_ON_SOFT: Reason = Reason::fixed(
    "a coulter on soft soil presses straw into the slot ahead of the opener",
    Mark::Read,
    sources::NRCS_COULTERS,
);
const WAIT_FOR_SUN: Reason = Reason::fixed(
    "plant from late morning to early evening, when straw cuts well",
    Mark::FromMemory,
    sources::RESIDUE_HOURS,
);
const SPREAD_PILES: Reason = Reason::fixed(
    "spread piles before planting: neither a cleaner nor a coulter gets through them",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SHARP: Reason = Reason::fixed(
    "sharp openers cut better on firm ground, and a little deeper they meet residue at a better angle",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
