//! From a planter and a field to a sheet of settings, with reasons.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::attachments::Attachments;
use super::caution::Caution;
use super::closing::{ClosingAdvice, Pass};
use super::coulter::CoulterAdvice;
use super::cover::{CoverAdvice, cover};
use super::depth::{DepthAdvice, depth};
use super::down_force::{DownForceAdvice, down_force};
use super::draft::PowerAdvice;
use super::goals::Goals;
use super::haul::Haul;
use super::keep_in_mind::keep_in_mind;
use super::measure_next::{NextMeasurement, Unsure, measure_next};
use super::old_rows::{OldRowsAdvice, old_rows};
use super::remedies::{Case, Remedy, remedies};
use super::row::Row;
use super::row_cleaner::RowCleanerAdvice;
use super::seeding::{SeedingAdvice, seeding_in};
use super::speed::{SpeedAdvice, speed};
use super::steps::force_steps;
use super::taught_row::{learned, with_lessons};
use super::wall::{WALL_SMEARS, WallAdvice, WallRisk};
use super::window::Window;
use super::work::WorkAdvice;
use crate::conditions::{
    Conditions, Contradiction, PestFinding, Today, fitness, pests, read_elsewhere,
};
use crate::dig::{Ask, Bar, CONFIDENCE, DigPlan, Spreads, plan};
use crate::in_furrow::{InFurrowAdvice, InFurrowPlan, in_furrow};
use crate::learning::{Lessons, Taught};
use crate::planter::{DiscVerdict, Planter, disc_wear};
use crate::provenance::{Advice, Assumed, Coefficients, Mark, Reason, Text, Trace, sources};
use crate::quantity::{Length, Measured, Speed};

/// The version of the engine. It changes whenever the same inputs give other answers.
pub const ENGINE: &str = "2026.4";

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
    /// What digs taught about this planter, soil and field; none where nobody dug.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lessons: Option<Lessons>,
}

impl Inputs {
    /// A planter in a field of which no dig has told anything.
    pub fn new(planter: Planter, field: Conditions, goals: Goals) -> Self {
        Self { planter, field, goals, lessons: None }
    }
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
    /// What digs taught, and what that changed; none where nobody dug.
    #[serde(default)]
    pub learned: Option<Taught>,
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
    /// What runs in the furrow, where a product was named.
    #[serde(default)]
    pub in_furrow: Option<Advice<InFurrowAdvice>>,
    /// Acres, days and the price of speed.
    #[serde(default)]
    pub work: Option<Advice<WorkAdvice>>,
    /// Draft and power.
    #[serde(default)]
    pub power: Option<Advice<PowerAdvice>>,
    /// State of the opener discs.
    pub discs: DiscVerdict,
    /// The cover crop: nitrogen, the day of its end, insects; none without a cover.
    #[serde(default)]
    pub cover: Option<Advice<CoverAdvice>>,
    /// Pests that were counted, against published thresholds.
    #[serde(default)]
    pub pests: Vec<PestFinding>,
    /// Readings that cannot all be true, and which of them was used.
    #[serde(default)]
    pub contradictions: Vec<Contradiction>,
    /// What else the grower is to do, in the advisor's words.
    pub instructions: Vec<String>,
    /// What to measure next, the most telling first.
    pub measure_next: Vec<NextMeasurement>,
    /// The risk that the wall of the slot smears at the advised setting.
    #[serde(default)]
    pub wall: Option<Advice<WallAdvice>>,
    /// Where the rows should run, seen from the old ones; none where that does not matter.
    #[serde(default)]
    pub old_rows: Option<Advice<OldRowsAdvice>>,
    /// What a practitioner keeps in mind here.
    #[serde(default)]
    pub keep_in_mind: Vec<Reason>,
    /// The first dig: which rows, how many seeds, where; none in what older engines stored.
    #[serde(default)]
    pub dig_plan: Option<DigPlan>,
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
    let Inputs { planter, goals, .. } = inputs;
    // What contradicts itself is read the safer way before anything is worked out.
    let (settled, contradictions) = inputs.field.settled(k);
    let field = &settled;
    let planter = with_decided_closing(planter, goals);
    let planter = planter.as_ref();
    let depth_advice = depth(field, planter, k);
    let depth_used = goals.depth.unwrap_or(depth_advice.choice.start);
    let wanted = goals.speed.unwrap_or_else(|| usual_speed(k));
    let plain = Row::gather(planter, field, k, depth_used, wanted);
    let window = Window::of(plain.moisture, goals.contact_loss, k, None);
    let row = with_lessons(plain, inputs.lessons.as_ref());
    let force = down_force(planter, &row, &window, goals.down_force, k);
    let shallowest = depth_advice.choice.safe_low;
    let case = Case { planter, field, k, row: &row, speed: wanted, shallowest };
    let discs = disc_wear(&planter.unit.opener, Length::from_si(k.disc_wear_limit.value * 0.0254));
    let attached =
        Attachments::of(planter, field, Pass { depth: depth_used, speed: wanted }, &force, k);
    let today = today(field, &window, attached.wall.choice.risk, k);
    let seeding = goals.seeding.map(|goal| seeding_in(goal, field, planter.row_width, k));
    let speed = speed(wanted, &force, k);
    let haul = Haul { planter, field, goals, wanted, speed: speed.choice, force: &force };
    let work = haul.work(seeding.as_ref().map(|s| &s.choice), k);
    let power = Some(haul.power(k));
    let in_furrow = in_furrow_plan(goals)
        .map(|plan| in_furrow(&plan, field, planter.row_width, Some(speed.choice.start), k));
    let cover = cover(field, k);
    let elsewhere: Vec<Assumed> = read_elsewhere(field, depth_used).into_iter().collect();
    let of_some = [
        seeding.as_ref().map(|s| &s.assumed),
        cover.as_ref().map(|c| &c.assumed),
        in_furrow.as_ref().map(|f| &f.assumed),
    ];
    let lists = [&today.assumed, &depth_advice.assumed].into_iter().chain(attached.assumed());
    let lists = lists.chain(of_some.into_iter().flatten()).chain([&elsewhere]);
    let assumed = gather_assumed(&row, lists.collect());
    Recommendation {
        engine: Text::Borrowed(ENGINE),
        remedies: remedies(&case, &force),
        speed,
        in_furrow,
        work,
        power,
        discs,
        instructions: goals.instructions.clone(),
        measure_next: measure_next(unsure(&row, &window, planter, goals), &force, k),
        keep_in_mind: keep_in_mind(planter, field, &force, discs),
        cautions: attached.cautions(planter, discs),
        wall: Some(attached.wall),
        old_rows: old_rows(field, k),
        assumed,
        trace: Trace { steps: force_steps(&row, &force, k) },
        learned: learned(planter, &row, &window, goals.down_force, &force, k),
        dig_plan: Some(first_dig(planter, k)),
        pests: pests(field, k),
        cover,
        contradictions,
        today,
        down_force: force,
        depth: depth_advice,
        depth_used,
        coulter: attached.coulter,
        row_cleaner: attached.row_cleaner,
        closing: attached.closing,
        seeding,
    }
}

/// The dig behind the first rows, from the spreads that are usual.
fn first_dig(planter: &Planter, k: &Coefficients) -> DigPlan {
    let ask = Ask {
        bar: Bar::of(planter),
        tolerance: Length::from_si(k.depth_tolerance.value * 0.0254),
        spreads: Spreads::pooled(&[], k),
        confidence: CONFIDENCE,
        dug: &[],
    };
    plan(&ask, k)
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

/// The liquid that is wanted, for the area that is to be planted.
fn in_furrow_plan(goals: &Goals) -> Option<InFurrowPlan> {
    let mut plan = goals.in_furrow.clone()?;
    plan.area = plan.area.or(goals.work.as_ref().and_then(|work| work.area));
    Some(plan)
}

/// What the next measurement is judged by.
const fn unsure<'a>(
    row: &'a Row,
    window: &'a Window,
    planter: &'a Planter,
    goals: &Goals,
) -> Unsure<'a> {
    Unsure { row, window, contact_loss: goals.contact_loss, source: &planter.down_force }
}

/// Whether to plant today, with what the forces and the wall add to it.
fn today(field: &Conditions, window: &Window, wall: WallRisk, k: &Coefficients) -> Advice<Today> {
    let mut today = fitness(field, k);
    if today.choice == Today::Plant {
        if !window.shown.room {
            today.watch.splice(0..0, NO_ROOM);
        }
        if wall == WallRisk::High {
            today.watch.push(WALL_SMEARS);
        }
    }
    today
}

fn usual_speed(k: &Coefficients) -> Speed {
    Speed::from_si(k.reference_speed.value * 0.447_04)
}

/// Every assumption once, whichever part made it.
fn gather_assumed(row: &Row, lists: Vec<&Vec<Assumed>>) -> Vec<Assumed> {
    let mut all = row.assumed.clone();
    for assumed in lists.into_iter().flatten() {
        if all.iter().all(|a| a.what != assumed.what) {
            all.push(assumed.clone());
        }
    }
    all
}
