//! The risk that residue is tucked into the slot instead of being cut.

use serde::{Deserialize, Serialize};

use super::cover_crop::CoverState;
use super::mat::mat_fraction;
use super::report::{Conditions, Moisture, ResidueFeel};
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
    /// What causes it, and what lowers it.
    pub causes: Vec<Reason>,
}

/// Whether the surface is soft: a cone reading below the soft limit, else wet soil.
pub fn is_soft(c: &Conditions, k: &Coefficients) -> bool {
    c.penetration.map_or_else(
        || matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity)),
        |cone| bounds::PENETRATION_RESISTANCE.show(cone, System::Us).0 < k.soft_soil.value,
    )
}

/// Whether residue bends instead of breaking: by feel, or because the cover is half dead or damp.
pub fn is_tough(c: &Conditions) -> bool {
    let state = c.cover.and_then(|cover| cover.state);
    matches!(c.residue_feel, Some(ResidueFeel::Pliable | ResidueFeel::Wet))
        || matches!(state, Some(CoverState::Dying | CoverState::DeadDamp))
}

/// The hairpin risk of a field, with or without a coulter ahead of the opener.
///
/// Points: dying or damp mat 2, wet residue 1, pliable residue 1/2, soft soil 1, a coulter on soft
/// soil 1 more. Without residue there is nothing to tuck. Below 1 low, below 2 some, else high (points are this project's own choice, each
/// cause has its source).
pub fn hairpins(c: &Conditions, coulter_ahead: bool, k: &Coefficients) -> Hairpins {
    if mat_fraction(c, k).likely < LITTLE_RESIDUE {
        return Hairpins { risk: HairpinRisk::Low, causes: vec![NOTHING_TO_TUCK] };
    }
    let mut points = 0.0;
    let mut causes = Vec::new();
    let mut add = |worth: f64, reason: Reason| {
        points += worth;
        causes.push(reason);
    };
    match c.cover.and_then(|cover| cover.state) {
        Some(CoverState::Dying) => add(2.0, DYING),
        Some(CoverState::DeadDamp) => add(2.0, DAMP_MAT),
        Some(CoverState::GreenStanding) => add(0.0, STANDING),
        Some(CoverState::DeadCrisp) => add(0.0, CRISP_MAT),
        Some(CoverState::GreenRolled) | None => {}
    }
    match c.residue_feel {
        Some(ResidueFeel::Wet) => add(1.0, WET_RESIDUE),
        Some(ResidueFeel::Pliable) => add(0.5, PLIABLE),
        Some(ResidueFeel::Crisp) | None => {}
    }
    if is_soft(c, k) {
        add(1.0, SOFT);
        if coulter_ahead {
            add(1.0, COULTER_ON_SOFT);
        }
    }
    let risk = if points < 1.0 {
        HairpinRisk::Low
    } else if points < 2.0 {
        HairpinRisk::Some
    } else {
        HairpinRisk::High
    };
    Hairpins { risk, causes }
}

/// Share of the path under residue and mat below which there is nothing to tuck.
const LITTLE_RESIDUE: f64 = 0.2;

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
const WET_RESIDUE: Reason = Reason::fixed(
    "wet residue does not cut: wait for the dew to go",
    Mark::FromMemory,
    "several extension bulletins (from memory, source to confirm)",
);
const PLIABLE: Reason = Reason::fixed(
    "residue that bends and does not snap is harder to cut",
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
