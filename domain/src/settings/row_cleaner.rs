//! The row cleaner: skim, float, or lift.

use serde::{Deserialize, Serialize};

use crate::conditions::{
    Conditions, CoverState, Moisture, ResidueSpread, RiskPoint, WrapRisk, Wrapping, mat_fraction,
    points_step, residue_cover, wrapping,
};
use crate::planter::Cleaner;
use crate::provenance::{Advice, Coefficients, Mark, Reason, Step, sources};
use crate::quantity::{Length, Measured};

/// How to run the row cleaner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CleanerUse {
    /// There is none.
    NotFitted,
    /// Part the residue, do not touch the soil.
    Skim,
    /// Float, just brushing the top of the cover.
    Float,
    /// Lift clear.
    Lift,
}

/// The advice on the row cleaner.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RowCleanerAdvice {
    /// How to run it.
    pub cleaner: CleanerUse,
    /// The risk that stems wrap.
    pub wrap: WrapRisk,
    /// What makes up that risk.
    #[serde(default)]
    pub points: Vec<RiskPoint>,
    /// The sum of the points.
    #[serde(default)]
    pub total: f64,
}

impl RowCleanerAdvice {
    /// The calculation behind the risk.
    pub fn wrap_step(&self) -> Step {
        points_step("wrap points", &self.points, self.total, None)
    }
}

/// Works out how to run the row cleaner.
///
/// Its aggressiveness is limited by the risk of wrapping: in a tall living cover it floats or is
/// lifted, over dead residue it skims, in a short cover with little dead residue it is off. It
/// never digs.
pub fn row_cleaner(c: &Conditions, fitted: Cleaner, k: &Coefficients) -> Advice<RowCleanerAdvice> {
    let wrap = wrapping(c, k);
    let (cleaner, reason) = choose(fitted, wrap.risk, &Ground::of(c, k));
    let mut because = vec![reason];
    because.extend(wrap.causes());
    let Wrapping { risk, points, total } = wrap;
    Advice {
        choice: RowCleanerAdvice { cleaner, wrap: risk, points, total },
        because,
        watch: watch(c, fitted, cleaner),
        assumed: Vec::new(),
    }
}

/// What there is to move.
struct Ground {
    /// Whether the cover lives.
    alive: bool,
    /// Whether there is next to nothing.
    bare: bool,
    /// Whether there is a short living cover and next to no dead residue.
    short_green: bool,
}

impl Ground {
    fn of(c: &Conditions, k: &Coefficients) -> Self {
        let little = k.little_residue.value;
        let inch = |height: Length| height.si() / 0.0254;
        let short = c.cover.is_some_and(|cover| {
            cover.height.is_some_and(|height| inch(height) < k.short_cover.value)
        });
        let alive = is_alive(c);
        Self {
            alive,
            bare: mat_fraction(c, k).likely < little,
            short_green: alive && short && residue_cover(c, k).likely < little,
        }
    }
}

fn is_alive(c: &Conditions) -> bool {
    c.cover.is_some_and(|cover| cover.state.is_none_or(CoverState::is_green))
}

fn choose(fitted: Cleaner, risk: WrapRisk, ground: &Ground) -> (CleanerUse, Reason) {
    match (fitted, risk) {
        (Cleaner::None, _) if ground.alive => (CleanerUse::NotFitted, NONE_IN_COVER),
        (Cleaner::None, _) => (CleanerUse::NotFitted, NONE_FITTED),
        (_, WrapRisk::Low) if ground.bare => (CleanerUse::Lift, NOTHING_TO_MOVE),
        (_, WrapRisk::Low) if ground.short_green => (CleanerUse::Lift, SHORT_GREEN),
        (_, WrapRisk::Low) => (CleanerUse::Skim, SKIM),
        (Cleaner::Floating, WrapRisk::Some) => (CleanerUse::Float, FLOAT),
        (Cleaner::Floating, WrapRisk::High) if ground.alive => (CleanerUse::Float, FLOAT),
        (Cleaner::Floating | Cleaner::Fixed, _) => (CleanerUse::Lift, LIFT),
    }
}

fn watch(c: &Conditions, fitted: Cleaner, cleaner: CleanerUse) -> Vec<Reason> {
    let wet = matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    let running = matches!(cleaner, CleanerUse::Skim | CleanerUse::Float);
    let has_cleaner = fitted != Cleaner::None;
    let alive = is_alive(c);
    let list = [
        (running, NEVER_DIG),
        (running && fitted == Cleaner::Fixed, RIDES_ON_IT),
        (running && wet, WET_SOIL),
        (running && c.residue_spread == Some(ResidueSpread::Piles), PILES),
        (running && c.residue_spread == Some(ResidueSpread::Banded), BANDS),
        (has_cleaner && alive, SOURCES_DIFFER),
        (has_cleaner && alive, BUILDS_UP),
        (running, STOP_TO_CLEAR),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

const NONE_FITTED: Reason = Reason::fixed(
    "no row cleaner is fitted: the opener must cut what lies there",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const NONE_IN_COVER: Reason = Reason::fixed(
    "no row cleaner is fitted; in a living cover none is needed",
    Mark::Read,
    sources::PENN_GUIDE,
);
const NOTHING_TO_MOVE: Reason = Reason::fixed(
    "there is next to nothing to move",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SHORT_GREEN: Reason = Reason::fixed(
    "a short living cover and little dead residue: a cleaner would only dig, lift it",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SKIM: Reason =
    Reason::fixed("skim the surface: move residue, not soil", Mark::Read, sources::IOWA_ROLL);
const FLOAT: Reason = Reason::fixed(
    "float, just brushing: be slow to use row cleaners in a living cover",
    Mark::Read,
    sources::IOWA_ROLL,
);
const LIFT: Reason =
    Reason::fixed("lift it clear: it would wrap and plug", Mark::Read, sources::PENN_GUIDE);
const NEVER_DIG: Reason = Reason::fixed(
    "part just enough residue and never dig; about a third of the cleaners turning at a time is right",
    Mark::Read,
    sources::PENN_RESIDUE_NOTE,
);
const RIDES_ON_IT: Reason = Reason::fixed(
    "a fixed cleaner that runs deep carries the unit, which looks like missing down force",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const WET_SOIL: Reason = Reason::fixed(
    "on wet soil keep it off the ground",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const PILES: Reason = Reason::fixed(
    "set it for the field, not for the piles: spread them before planting",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const BANDS: Reason = Reason::fixed(
    "set it in the bands, where residue is thick, then look that it does not dig between them",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SOURCES_DIFFER: Reason = Reason::fixed(
    "sources differ: one advises an aggressive setting when planting green, to warm the furrow; wrapping sets the limit",
    Mark::Read,
    sources::PENN_GREEN,
);
const BUILDS_UP: Reason = Reason::fixed(
    "in a farmer's trial cleaners tore living rye loose, built up on the spikes and hindered closing",
    Mark::Read,
    sources::SARE_CLEANERS,
);
const STOP_TO_CLEAR: Reason = Reason::fixed(
    "clear a wrapped cleaner with the planter down or blocked, the tractor off and the key out",
    Mark::Read,
    sources::WISCONSIN_CHECKUP,
);
