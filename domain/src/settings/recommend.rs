//! From a planter and a field to a sheet of settings, with reasons.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::caution::{Caution, cautions};
use super::closing::{ClosingAdvice, closing};
use super::coulter::{CoulterAdvice, coulter};
use super::depth::{DepthAdvice, depth};
use super::down_force::{DownForceAdvice, down_force};
use super::goals::Goals;
use super::measure_next::{NextMeasurement, measure_next};
use super::remedies::{Case, Remedy, remedies};
use super::row::Row;
use super::row_cleaner::{RowCleanerAdvice, row_cleaner};
use super::seeding::{SeedingAdvice, seeding};
use super::speed::{SpeedAdvice, speed};
use super::steps::force_steps;
use super::window::load_window;
use crate::conditions::{Conditions, Today, fitness};
use crate::planter::{DiscVerdict, Planter, disc_wear};
use crate::provenance::{Advice, Assumed, Coefficients, Mark, Reason, Text, Trace, sources};
use crate::quantity::{Length, Measured, Speed};

/// The version of the engine. It changes whenever the same inputs give other answers.
pub const ENGINE: &str = "2026.1";

/// Said beside "plant" where no force both keeps the wheels down and spares the wall.
const NO_ROOM: [Reason; 2] = [
    Reason::fixed(
        "wet soil: only enough load to keep the wheels in contact; look at the wall on every row you dig",
        Mark::Read,
        sources::IOWA_WET,
    ),
    Reason::fixed("even half a day's wait helps", Mark::Read, sources::KANSAS_SIDEWALL),
];

/// What goes into a recommendation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Inputs {
    /// The planter.
    pub planter: Planter,
    /// The field.
    pub field: Conditions,
    /// What the advisor wants.
    pub goals: Goals,
}

/// A sheet of settings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Recommendation {
    /// The version of the engine.
    pub engine: Text,
    /// Whether to plant today.
    pub today: Advice<Today>,
    /// Down force, and how to get it on this planter.
    pub down_force: DownForceAdvice,
    /// What would help where the planter cannot do what is needed.
    pub remedies: Vec<Remedy>,
    /// Furrow depth.
    pub depth: Advice<DepthAdvice>,
    /// The depth that the forces were worked out for: the wish of the advisor, or the advice.
    pub depth_used: Length,
    /// Coulter.
    pub coulter: Advice<CoulterAdvice>,
    /// Row cleaner.
    pub row_cleaner: Advice<RowCleanerAdvice>,
    /// Closing wheels.
    pub closing: Advice<ClosingAdvice>,
    /// Ground speed.
    pub speed: Advice<SpeedAdvice>,
    /// Seeding rate and spacing, where a goal was given.
    pub seeding: Option<Advice<SeedingAdvice>>,
    /// State of the opener discs.
    pub discs: DiscVerdict,
    /// What else the grower is to do, in the advisor's words.
    pub instructions: Vec<String>,
    /// What to measure next, the most telling first.
    pub measure_next: Vec<NextMeasurement>,
    /// Cautions that go with the sheet.
    pub cautions: Vec<Caution>,
    /// Everything that nobody measured and what was used instead.
    pub assumed: Vec<Assumed>,
    /// The calculation, step by step.
    pub trace: Trace,
}

/// Works out the settings of a planter in a field.
///
/// Never fails: what is missing is assumed, listed under `assumed`, and widens the ranges; what
/// the planter cannot do is said under `down_force.reach` and `remedies`.
pub fn recommend(inputs: &Inputs, k: &Coefficients) -> Recommendation {
    let Inputs { planter, field, goals } = inputs;
    let planter = with_decided_closing(planter, goals);
    let planter = planter.as_ref();
    let depth_advice = depth(field, planter, k);
    let depth_used = goals.depth.unwrap_or(depth_advice.choice.start);
    let wanted = goals.speed.unwrap_or_else(|| usual_speed(k));
    let row = Row::gather(planter, field, k, depth_used, wanted);
    let window = load_window(row.moisture, k);
    let force = down_force(planter, &row, &window, goals.down_force, k);
    let case = Case {
        planter,
        field,
        k,
        row: &row,
        speed: wanted,
        shallowest: depth_advice.choice.safe_low,
    };
    let mut today = fitness(field, k);
    if !window.room && today.choice == Today::Plant {
        today.watch.splice(0..0, NO_ROOM);
    }
    let coulter = coulter(field, planter, k);
    let row_cleaner = row_cleaner(field, planter, k);
    let closing = closing(field, planter, k);
    let seeding = goals.seeding.map(|goal| seeding(goal, field.crop, planter.row_width, k));
    let assumed = gather_assumed(
        &row,
        [
            &today.assumed,
            &depth_advice.assumed,
            &coulter.assumed,
            &row_cleaner.assumed,
            &closing.assumed,
        ],
        seeding.as_ref().map(|s| &s.assumed),
    );
    Recommendation {
        engine: Text::Borrowed(ENGINE),
        remedies: remedies(&case, &force),
        speed: speed(wanted, &force, k),
        discs: disc_wear(&planter.unit.opener, Length::from_si(k.disc_wear_limit.value * 0.0254)),
        instructions: goals.instructions.clone(),
        measure_next: measure_next(&row),
        cautions: cautions(planter),
        assumed,
        trace: Trace { steps: force_steps(&row, &force, k) },
        today,
        down_force: force,
        depth: depth_advice,
        depth_used,
        coulter,
        row_cleaner,
        closing,
        seeding,
    }
}

/// The planter with the closing wheels that were decided on.
fn with_decided_closing<'a>(planter: &'a Planter, goals: &Goals) -> Cow<'a, Planter> {
    match goals.closing {
        Some(pair) if pair != planter.unit.closing => {
            let mut changed = planter.clone();
            changed.unit.closing = pair;
            Cow::Owned(changed)
        }
        _ => Cow::Borrowed(planter),
    }
}

fn usual_speed(k: &Coefficients) -> Speed {
    Speed::from_si(k.reference_speed.value * 0.447_04)
}

/// Every assumption once, whichever part made it.
fn gather_assumed(
    row: &Row,
    parts: [&Vec<Assumed>; 5],
    seeding: Option<&Vec<Assumed>>,
) -> Vec<Assumed> {
    let mut all = row.assumed.clone();
    for assumed in parts.into_iter().chain(seeding).flatten() {
        if all.iter().all(|a| a.what != assumed.what) {
            all.push(assumed.clone());
        }
    }
    all
}
