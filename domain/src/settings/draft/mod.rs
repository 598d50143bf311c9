//! Draft of the planter and the power it takes.
//!
//! The standard gives planters a draft for each row and no term for speed, so that power rises
//! with speed only because power is pull times speed. Its figures stand here from memory, with the
//! ranges it gives.

mod rows;
mod traction;

use serde::{Deserialize, Serialize};

pub use rows::DraftRow;
pub use traction::{TractionSurface, TractorKind};

use super::capacity::{Power, drawbar_power};
use crate::conditions::{Moisture, TextureGroup};
use crate::provenance::{Advice, Assumed, Coefficients, Input, Mark, Reason, Step, sources};
use crate::quantity::{Force, Measured, Speed};
use crate::stats::Range;

/// What pulls what, over which ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hauling {
    /// Rows.
    pub rows: u16,
    /// Draft of a row: the line of the table, or a draft that was measured.
    pub row: RowDraft,
    /// Texture, for the factor of the table.
    pub texture: Option<TextureGroup>,
    /// Ground speed.
    pub speed: Speed,
    /// The tractor, where it is known.
    pub tractor: Option<TractorKind>,
    /// The ground under it, where it is known.
    pub surface: Option<TractionSurface>,
}

/// Where the draft of a row comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RowDraft {
    /// The standard.
    Table(DraftRow),
    /// Somebody measured it.
    Measured(Force),
}

/// Draft and power.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PowerAdvice {
    /// Draft of a row, N.
    pub draft_per_row: Range,
    /// Pull of all rows together, N.
    pub pull: Range,
    /// The speed it is for.
    pub speed: Speed,
    /// Power at the drawbar, W.
    pub drawbar: Range,
    /// Power at the PTO that the tractor needs, W.
    pub pto: Range,
    /// Power at the flywheel, W.
    pub engine: Range,
    /// The tractor that the likely figure is for.
    pub tractor: TractorKind,
    /// The ground that it is for.
    pub surface: TractionSurface,
    /// Slip to look for, share of the wheels' way: low end.
    pub slip_low: f64,
    /// High end.
    pub slip_high: f64,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// The ground under the tractor by the moisture of the field: soft when wet, else firm.
pub const fn surface_of(moisture: Moisture) -> TractionSurface {
    match moisture {
        Moisture::Wet | Moisture::AtCapacity => TractionSurface::Soft,
        Moisture::Dry | Moisture::SlightlyMoist | Moisture::Moist => TractionSurface::Firm,
    }
}

/// Works out draft and power.
pub fn power(it: &Hauling, k: &Coefficients) -> Advice<PowerAdvice> {
    let mut assumed = Vec::new();
    let mut steps = Vec::new();
    let draft = row_draft(it, k, &mut assumed, &mut steps);
    let pull = draft.scaled(f64::from(it.rows));
    steps.push(pull_step(it, draft, pull));
    let drawbar = pull.scaled(it.speed.si());
    let (_, mut step) = drawbar_power(Force::from_si(pull.likely), it.speed);
    step.low = Some(horsepower(drawbar.low));
    step.high = Some(horsepower(drawbar.high));
    steps.push(step);
    let traction = Traction::of(it, &mut assumed);
    let pto = Range::new(
        drawbar.low / traction.share.high,
        drawbar.likely / traction.share.likely,
        drawbar.high / traction.share.low,
    );
    steps.push(traction.step(drawbar, pto));
    let engine = pto.scaled(1.0 / k.pto_of_engine.value);
    steps.push(engine_step(pto, engine, k));
    let (slip_low, slip_high) = traction.surface.best_slip();
    Advice {
        choice: PowerAdvice {
            draft_per_row: draft,
            pull,
            speed: it.speed,
            drawbar,
            pto,
            engine,
            tractor: traction.tractor,
            surface: traction.surface,
            slip_low: slip_low / 100.0,
            slip_high: slip_high / 100.0,
            steps,
        },
        because: because(it.row).to_vec(),
        watch: vec![slip_words(slip_low, slip_high), GRADE],
        assumed,
    }
}

fn row_draft(
    it: &Hauling,
    k: &Coefficients,
    assumed: &mut Vec<Assumed>,
    steps: &mut Vec<Step>,
) -> Range {
    let line = match it.row {
        RowDraft::Measured(force) => return Range::exact(force.si()),
        RowDraft::Table(line) => line,
    };
    let a = line.coefficient(k);
    let factor = line.texture_factor(it.texture, k);
    let draft = Range::new(a.low * factor.low, a.value * factor.likely, a.high * factor.high);
    assumed.push(Assumed {
        what: "draft of a row".into(),
        used: format!("{:.0} N ({:.0} lbf)", draft.likely, draft.likely / POUND_FORCE).into(),
        range: Some(format!("{:.0} to {:.0} N", draft.low, draft.high).into()),
        instead: "pull the planter through a load cell, or compare fuel with and without it".into(),
        mark: a.mark,
        source: a.source.clone(),
    });
    steps.push(Step {
        step: "draft of a row".into(),
        formula: "F A".into(),
        inputs: vec![Input::new("F", factor.likely, "1"), Input::new("A", a.value, "N")],
        value: draft.likely,
        unit: "N".into(),
        low: Some(draft.low),
        high: Some(draft.high),
        source: a.source.clone(),
        mark: a.mark,
    });
    draft
}

fn pull_step(it: &Hauling, draft: Range, pull: Range) -> Step {
    let mark = match it.row {
        RowDraft::Table(_) => Mark::FromMemory,
        RowDraft::Measured(_) => Mark::Measured,
    };
    Step {
        step: "pull of the planter".into(),
        formula: "rows x draft of a row".into(),
        inputs: vec![
            Input::new("rows", f64::from(it.rows), "1"),
            Input::new("draft of a row", draft.likely, "N"),
        ],
        value: pull.likely,
        unit: "N".into(),
        low: Some(pull.low),
        high: Some(pull.high),
        source: sources::STATICS.into(),
        mark,
    }
}

/// Drawbar power for PTO power of the tractor on its ground.
struct Traction {
    tractor: TractorKind,
    surface: TractionSurface,
    share: Range,
}

impl Traction {
    fn of(it: &Hauling, assumed: &mut Vec<Assumed>) -> Self {
        let tractor = it.tractor.unwrap_or_else(|| {
            assumed.push(UNKNOWN_TRACTOR);
            TractorKind::FrontAssist
        });
        let surface = it.surface.unwrap_or_else(|| {
            assumed.push(UNKNOWN_SURFACE);
            TractionSurface::Firm
        });
        let kinds = it.tractor.map_or(TractorKind::ALL.to_vec(), |kind| vec![kind]);
        let surfaces = it.surface.map_or(vec![surface, TractionSurface::Soft], |known| vec![known]);
        let shares = kinds.iter().flat_map(|t| surfaces.iter().map(|s| t.drawbar_share(*s)));
        let likely = tractor.drawbar_share(surface);
        let (low, high) = shares.fold((likely, likely), |(l, h), x| (l.min(x), h.max(x)));
        Self { tractor, surface, share: Range::new(low, likely, high) }
    }

    fn step(&self, drawbar: Range, pto: Range) -> Step {
        Step {
            step: "power at the PTO".into(),
            formula: "drawbar power / r".into(),
            inputs: vec![
                Input::new("drawbar power", horsepower(drawbar.likely), "[HP]"),
                Input::new("r", self.share.likely, "1"),
            ],
            value: horsepower(pto.likely),
            unit: "[HP]".into(),
            low: Some(horsepower(pto.low)),
            high: Some(horsepower(pto.high)),
            source: sources::ARIZONA_POWER.into(),
            mark: Mark::Read,
        }
    }
}

fn engine_step(pto: Range, engine: Range, k: &Coefficients) -> Step {
    Step {
        step: "power at the flywheel".into(),
        formula: "PTO power / r_pto".into(),
        inputs: vec![
            Input::new("PTO power", horsepower(pto.likely), "[HP]"),
            Input::new("r_pto", k.pto_of_engine.value, "1"),
        ],
        value: horsepower(engine.likely),
        unit: "[HP]".into(),
        low: Some(horsepower(engine.low)),
        high: Some(horsepower(engine.high)),
        source: k.pto_of_engine.source.clone(),
        mark: k.pto_of_engine.mark,
    }
}

fn horsepower(watts: f64) -> f64 {
    Power::from_watts(watts).horsepower()
}

fn slip_words(low: f64, high: f64) -> Reason {
    Reason::made(
        format!(
            "slip for the best pull on this ground: {low:.0} to {high:.0} % (100 x (advance without load - advance with load) / advance without load, for each turn of the wheel)"
        ),
        Mark::Read,
        sources::ARIZONA_POWER,
    )
}

const POUND_FORCE: f64 = 4.448_221_615_260_5;

const fn because(row: RowDraft) -> [Reason; 2] {
    let draft = match row {
        RowDraft::Table(_) => Reason::fixed(
            "draft of a row by the standard, with the range it gives",
            Mark::FromMemory,
            sources::ASABE_D497,
        ),
        RowDraft::Measured(_) => {
            Reason::fixed("draft of a row as it was given", Mark::Measured, sources::MEASURED_HERE)
        }
    };
    [draft, NO_SPEED]
}

const NO_SPEED: Reason = Reason::fixed(
    "the standard has no term for speed in planter draft: power rises only because speed does",
    Mark::FromMemory,
    sources::ASABE_D497,
);
const GRADE: Reason = Reason::fixed(
    "hills, soft ground, full tanks and hydraulic fans take power on top of this",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const UNKNOWN_TRACTOR: Assumed = Assumed {
    what: std::borrow::Cow::Borrowed("tractor"),
    used: std::borrow::Cow::Borrowed("front-wheel assist"),
    range: Some(std::borrow::Cow::Borrowed("two-wheel drive to tracks")),
    instead: std::borrow::Cow::Borrowed("say how the tractor drives"),
    mark: Mark::Assumption,
    source: std::borrow::Cow::Borrowed(sources::ASSUMPTION),
};
const UNKNOWN_SURFACE: Assumed = Assumed {
    what: std::borrow::Cow::Borrowed("ground under the tractor"),
    used: std::borrow::Cow::Borrowed("firm"),
    range: Some(std::borrow::Cow::Borrowed("firm to soft")),
    instead: std::borrow::Cow::Borrowed("say whether the ground is firm, tilled or soft"),
    mark: Mark::Assumption,
    source: std::borrow::Cow::Borrowed(sources::ASSUMPTION),
};
