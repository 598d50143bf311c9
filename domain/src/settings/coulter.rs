//! The coulter ahead of the opener: leave it on, take it off, and how high.

use serde::{Deserialize, Serialize};
use uom::si::length::inch;

use crate::conditions::{
    Conditions, HairpinRisk, Moisture, hairpins, is_soft, is_tough, mat_fraction,
};
use crate::planter::{Coulter, Planter};
use crate::provenance::{Advice, Assumed, Coefficients, Mark, Reason, sources};
use crate::quantity::{Length, Measured};

/// What to do with the coulter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CoulterUse {
    /// There is none, and none is needed with sharp openers.
    NotFitted,
    /// Run it.
    Run,
    /// Take it off or lift it clear.
    TakeOff,
}

/// The advice on the coulter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CoulterAdvice {
    /// What to do.
    pub coulter: CoulterUse,
    /// How much higher its edge runs than the opener's, when it runs.
    pub above_opener: Option<Length>,
    /// The risk of hairpins with the coulter as advised.
    pub hairpins: HairpinRisk,
}

/// Works out what to do with the coulter.
///
/// Off on soft soil under tough residue, where it presses straw into the slot. Otherwise it runs a
/// little higher than the opener.
pub fn coulter(c: &Conditions, p: &Planter, k: &Coefficients) -> Advice<CoulterAdvice> {
    let Some(fitted) = p.unit.coulter else {
        return without(c, k);
    };
    let (soft, tough) = (is_soft(c, k), is_tough(c));
    if soft && tough {
        return take_off(c, k);
    }
    let risk = hairpins(c, true, k);
    let mut watch = risk.causes;
    let because = run_because(c, k);
    watch.extend(run_watch(c, k, soft, tough));
    let (above, assumed) = height(&fitted, k, &mut watch);
    Advice {
        choice: CoulterAdvice {
            coulter: CoulterUse::Run,
            above_opener: Some(above),
            hairpins: risk.risk,
        },
        because,
        watch,
        assumed,
    }
}

fn without(c: &Conditions, k: &Coefficients) -> Advice<CoulterAdvice> {
    let risk = hairpins(c, false, k);
    let mut watch = vec![SHARP_OPENERS];
    watch.extend(risk.causes);
    Advice {
        choice: CoulterAdvice {
            coulter: CoulterUse::NotFitted,
            above_opener: None,
            hairpins: risk.risk,
        },
        because: vec![NOT_NEEDED],
        watch,
        assumed: Vec::new(),
    }
}

fn take_off(c: &Conditions, k: &Coefficients) -> Advice<CoulterAdvice> {
    let risk = hairpins(c, false, k);
    let mut because = vec![PRESSES_STRAW, NOT_NEEDED];
    because.extend(risk.causes);
    Advice {
        choice: CoulterAdvice {
            coulter: CoulterUse::TakeOff,
            above_opener: None,
            hairpins: risk.risk,
        },
        because,
        watch: vec![LESS_LIFT, TWO_ROWS, SHARP_OPENERS],
        assumed: Vec::new(),
    }
}

fn run_because(c: &Conditions, k: &Coefficients) -> Vec<Reason> {
    if mat_fraction(c, k).likely < LITTLE_RESIDUE {
        vec![NOTHING_TO_CUT]
    } else {
        vec![CUTS_ON_FIRM]
    }
}

fn run_watch(c: &Conditions, k: &Coefficients, soft: bool, tough: bool) -> Vec<Reason> {
    let wet = matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    let bare = mat_fraction(c, k).likely < LITTLE_RESIDUE;
    let list = [
        (soft || tough, SHARP_COULTER),
        (soft || tough, OFF_IF_HAIRPINS),
        (wet, STICKY),
        (bare, TWO_ROWS),
        (!bare, SHARP_COULTER),
    ];
    let mut watch: Vec<Reason> = Vec::new();
    for (holds, reason) in list {
        if holds && !watch.contains(&reason) {
            watch.push(reason);
        }
    }
    watch
}

/// The height to run at: as it stands if it is inside the usual band, else the usual height.
fn height(fitted: &Coulter, k: &Coefficients, watch: &mut Vec<Reason>) -> (Length, Vec<Assumed>) {
    let usual = k.coulter_above_opener;
    let mm = |x: f64| Length::from_si(x / 1000.0);
    let Some(now) = fitted.above_opener else {
        return (mm(usual.value), vec![unknown_height(usual.source, usual.mark)]);
    };
    let (low, high) = (mm(usual.low), mm(usual.high));
    if now.si() >= low.si() - 1e-4 && now.si() <= high.si() + 1e-4 {
        return (now, Vec::new());
    }
    watch.push(Reason::made(
        format!(
            "the coulter runs {:.2} in above the opener; a quarter to three eighths of an inch is usual",
            now.get::<inch>()
        ),
        usual.mark,
        usual.source,
    ));
    (mm(usual.value), Vec::new())
}

fn unknown_height(source: &'static str, mark: Mark) -> Assumed {
    Assumed {
        what: "height of the coulter above the opener".into(),
        used: "0.3 in (8 mm)".into(),
        range: Some("0.25 to 0.4 in".into()),
        instead: "lower the openers onto a plank and measure under the coulter".into(),
        mark,
        source: source.into(),
    }
}

/// Share of the path under residue and mat below which there is little to cut.
const LITTLE_RESIDUE: f64 = 0.2;

const NOT_NEEDED: Reason = Reason::fixed(
    "no coulter is needed where the openers are sharp and touch as they should: two blades then cut as one",
    Mark::Read,
    sources::NEBRASKA_EQUIPMENT,
);
const SHARP_OPENERS: Reason = Reason::fixed(
    "check that the opener discs are sharp and touch over about 2 in",
    Mark::Read,
    sources::NEBRASKA_EQUIPMENT,
);
const PRESSES_STRAW: Reason = Reason::fixed(
    "soft soil and tough residue: a coulter presses the straw into the slot, take it off",
    Mark::Read,
    sources::NRCS_COULTERS,
);
const LESS_LIFT: Reason = Reason::fixed(
    "without the coulter the unit needs less down force: set it anew",
    Mark::Derived,
    sources::STATICS,
);
const TWO_ROWS: Reason = Reason::fixed(
    "try two rows without the coulter first, dig, and compare",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const CUTS_ON_FIRM: Reason = Reason::fixed(
    "residue to cut on firm soil: the coulter opens the way",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const NOTHING_TO_CUT: Reason = Reason::fixed(
    "there is little residue to cut: the coulter may run, but it costs down force",
    Mark::Derived,
    sources::STATICS,
);
const SHARP_COULTER: Reason =
    Reason::fixed("the blade must be sharp", Mark::Read, sources::NEBRASKA_DRY);
const OFF_IF_HAIRPINS: Reason = Reason::fixed(
    "if the dig shows tucked straw, take the coulter off",
    Mark::Read,
    sources::NRCS_COULTERS,
);
const STICKY: Reason = Reason::fixed(
    "in sticky soil a coulter that runs deep or fast throws soil out and adds to sidewall compaction",
    Mark::Read,
    sources::IOWA_ROLL,
);
