//! The row cleaner: skim, float, or lift.

use serde::{Deserialize, Serialize};

use crate::conditions::{
    Conditions, CoverState, Moisture, WrapRisk, Wrapping, mat_fraction, wrapping,
};
use crate::planter::{Cleaner, Planter};
use crate::provenance::{Advice, Coefficients, Mark, Reason, sources};

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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct RowCleanerAdvice {
    /// How to run it.
    pub cleaner: CleanerUse,
    /// The risk that stems wrap.
    pub wrap: WrapRisk,
}

/// Works out how to run the row cleaner.
///
/// Its aggressiveness is limited by the risk of wrapping: in a tall living cover it floats or is
/// lifted, over dead residue it skims. It never digs.
pub fn row_cleaner(c: &Conditions, p: &Planter, k: &Coefficients) -> Advice<RowCleanerAdvice> {
    let Wrapping { risk, causes } = wrapping(c, k);
    let mat = mat_fraction(c, k).likely;
    let state = c.cover.and_then(|cover| cover.state);
    let alive = c.cover.is_some() && state.is_none_or(CoverState::is_green);
    let (cleaner, reason) = choose(p.unit.cleaner, risk, alive, mat);
    let mut because = vec![reason];
    because.extend(causes);
    Advice {
        choice: RowCleanerAdvice { cleaner, wrap: risk },
        because,
        watch: watch(c, p.unit.cleaner, cleaner, alive),
        assumed: Vec::new(),
    }
}

fn choose(fitted: Cleaner, risk: WrapRisk, alive: bool, mat: f64) -> (CleanerUse, Reason) {
    match (fitted, risk) {
        (Cleaner::None, _) => (CleanerUse::NotFitted, NONE_FITTED),
        (_, WrapRisk::Low) if mat < LITTLE_RESIDUE => (CleanerUse::Lift, NOTHING_TO_MOVE),
        (_, WrapRisk::Low) => (CleanerUse::Skim, SKIM),
        (Cleaner::Floating, WrapRisk::Some) => (CleanerUse::Float, FLOAT),
        (Cleaner::Floating, WrapRisk::High) if alive => (CleanerUse::Float, FLOAT),
        (Cleaner::Floating | Cleaner::Fixed, _) => (CleanerUse::Lift, LIFT),
    }
}

fn watch(c: &Conditions, fitted: Cleaner, cleaner: CleanerUse, alive: bool) -> Vec<Reason> {
    let wet = matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    let running = matches!(cleaner, CleanerUse::Skim | CleanerUse::Float);
    let has_cleaner = fitted != Cleaner::None;
    let list = [
        (running, NEVER_DIG),
        (running && fitted == Cleaner::Fixed, RIDES_ON_IT),
        (running && wet, WET_SOIL),
        (has_cleaner && alive, SOURCES_DIFFER),
        (has_cleaner && alive, BUILDS_UP),
        (running, STOP_TO_CLEAR),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

/// Share of the path under residue and mat below which there is nothing to move.
const LITTLE_RESIDUE: f64 = 0.2;

const NONE_FITTED: Reason = Reason::fixed(
    "no row cleaner is fitted; in a living cover none is needed",
    Mark::Read,
    sources::PENN_GUIDE,
);
const NOTHING_TO_MOVE: Reason = Reason::fixed(
    "there is next to nothing to move",
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
