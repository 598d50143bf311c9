//! The coulter ahead of the opener: leave it on, take it off, and how high.

use serde::{Deserialize, Serialize};

use super::say::inches;
use crate::conditions::{
    Conditions, HairpinRisk, Hairpins, Moisture, RiskPoint, hairpins, is_loose, is_soft, is_tough,
    mat_fraction, points_step,
};
use crate::planter::{Coulter, CoulterMount};
use crate::provenance::{Advice, Assumed, Coefficient, Coefficients, Mark, Reason, Step, sources};
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CoulterAdvice {
    /// What to do.
    pub coulter: CoulterUse,
    /// How much higher its edge runs than the opener's, when it runs. Never below it.
    pub above_opener: Option<Length>,
    /// The risk of hairpins with the coulter as advised.
    pub hairpins: HairpinRisk,
    /// What makes up that risk.
    #[serde(default)]
    pub points: Vec<RiskPoint>,
    /// The sum of the points, 0 to 3.
    #[serde(default)]
    pub total: f64,
    /// The points at which the risk ends.
    #[serde(default)]
    pub most: f64,
    /// What would lower the risk.
    #[serde(default)]
    pub lower: Vec<Reason>,
}

impl CoulterAdvice {
    fn of(coulter: CoulterUse, above_opener: Option<Length>, risk: Hairpins) -> Self {
        let Hairpins { risk, points, total, most, lower } = risk;
        Self { coulter, above_opener, hairpins: risk, points, total, most, lower }
    }

    /// The calculation behind the risk; none in results of an engine that kept no points.
    pub fn hairpin_step(&self) -> Option<Step> {
        let kept = !self.points.is_empty() || self.most > 0.0;
        kept.then(|| points_step("hairpin points", &self.points, self.total, Some(self.most)))
    }
}

/// Works out what to do with the coulter, `None` where there is none.
///
/// Off on soft soil under tough residue, where it presses straw into the slot, and on loose soil
/// under any residue. Otherwise it runs a little higher than the opener, never deeper.
pub fn coulter(c: &Conditions, fitted: Option<Coulter>, k: &Coefficients) -> Advice<CoulterAdvice> {
    let Some(fitted) = fitted else {
        return without(c, k);
    };
    let bare = mat_fraction(c, k).likely < k.little_residue.value;
    let (soft, tough) = (is_soft(c, k), is_tough(c));
    if soft && tough {
        return take_off(c, PRESSES_STRAW, k);
    }
    if is_loose(c, k) == Some(true) && !bare {
        return take_off(c, PUSHES_STRAW, k);
    }
    let risk = hairpins(c, true, k);
    let mut watch = risk.causes();
    watch.extend(run_watch(c, fitted.mount, (soft || tough, bare)));
    let (above, assumed) = height(&fitted, k, &mut watch);
    Advice {
        choice: CoulterAdvice::of(CoulterUse::Run, Some(above), risk),
        because: vec![if bare { NOTHING_TO_CUT } else { CUTS_ON_FIRM }],
        watch,
        assumed,
    }
}

fn without(c: &Conditions, k: &Coefficients) -> Advice<CoulterAdvice> {
    let risk = hairpins(c, false, k);
    let mut watch = vec![SHARP_OPENERS];
    watch.extend(risk.causes());
    Advice {
        choice: CoulterAdvice::of(CoulterUse::NotFitted, None, risk),
        because: vec![NOT_NEEDED],
        watch,
        assumed: Vec::new(),
    }
}

fn take_off(c: &Conditions, why: Reason, k: &Coefficients) -> Advice<CoulterAdvice> {
    let risk = hairpins(c, false, k);
    let mut because = vec![why, NOT_NEEDED];
    because.extend(risk.causes());
    Advice {
        choice: CoulterAdvice::of(CoulterUse::TakeOff, None, risk),
        because,
        watch: vec![LESS_LIFT, TWO_ROWS, SHARP_OPENERS],
        assumed: Vec::new(),
    }
}

fn run_watch(c: &Conditions, mount: CoulterMount, (risky, bare): (bool, bool)) -> Vec<Reason> {
    let wet = matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    let list = [
        (risky || !bare, SHARP_COULTER),
        (risky, OFF_IF_HAIRPINS),
        (wet, STICKY),
        (bare, TWO_ROWS),
        (mount == CoulterMount::Frame, ON_THE_FRAME),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

/// The height to run at: as it stands if it is inside the usual band, else the usual height.
fn height(fitted: &Coulter, k: &Coefficients, watch: &mut Vec<Reason>) -> (Length, Vec<Assumed>) {
    let usual = &k.coulter_above_opener;
    let mm = |x: f64| Length::from_si(x / 1000.0);
    let Some(now) = fitted.above_opener else {
        return (mm(usual.value), vec![unknown_height(usual)]);
    };
    let (low, high) = (mm(usual.low), mm(usual.high));
    if now.si() >= low.si() - 1e-4 && now.si() <= high.si() + 1e-4 {
        return (now, Vec::new());
    }
    let (low, high) = (inches(low), inches(high));
    let text = if now.si() < 0.0 {
        let below = inches(-now);
        format!(
            "the coulter runs {below} deeper than the opener: it loosens the soil under the seed; set it {low} to {high} higher than the opener"
        )
    } else {
        format!("the coulter runs {} above the opener; {low} to {high} is usual", inches(now))
    };
    watch.push(Reason::made(text, usual.mark, usual.source.clone()));
    (mm(usual.value), Vec::new())
}

fn unknown_height(usual: &Coefficient) -> Assumed {
    Assumed {
        what: "height of the coulter above the opener".into(),
        used: "0.3 in (8 mm)".into(),
        range: Some("0.25 to 0.4 in".into()),
        instead: "lower the openers onto a plank and measure under the coulter".into(),
        mark: usual.mark,
        source: usual.source.clone(),
    }
}

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
const PUSHES_STRAW: Reason = Reason::fixed(
    "loose soil under residue: a coulter pushes stiff straw into the furrow, take it off",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
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
const ON_THE_FRAME: Reason = Reason::fixed(
    "a coulter on the frame lifts the frame, not the unit, and does not follow the ground: check its depth where the bar rises",
    Mark::Derived,
    sources::STATICS,
);
