//! How fast the ground is covered, what bounds the speed, and what going slower costs and gains.

mod goal;
mod limits;
mod pace;
mod price;

use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};

pub use goal::Work;
pub use limits::{SpeedBound, SpeedLimit, fastest_with_contact};
pub use pace::Pace;
pub use price::PriceOfSpeed;

use super::seed_order::SeedOrder;
use crate::conditions::Crop;
use crate::provenance::{Advice, Coefficients, Mark, Reason, Step, sources};
use crate::quantity::{Area, Force, Length, Measured, Speed, unit};
use pace::Day;

/// Whether the area was named.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WorkArea {
    /// It was given: the field, or what was entered.
    Given,
    /// Nobody gave it: everything is said for 100 acres.
    HundredAcres,
}

/// Acres, days and the price of speed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WorkAdvice {
    /// The area that the days are for.
    pub area: Area,
    /// Where it comes from.
    pub area_from: WorkArea,
    /// At the advised speed.
    pub advised: Pace,
    /// One mile an hour slower; `None` at a crawl.
    pub slower: Option<Pace>,
    /// At the fastest speed that keeps contact and metering.
    pub fastest: Pace,
    /// What the slower pace costs and gains.
    pub price: Option<PriceOfSpeed>,
    /// What bounds the speed.
    pub limits: Vec<SpeedLimit>,
    /// Which of them binds.
    pub binds: SpeedBound,
    /// The day on which the area is done at the advised pace; `None` without a planting date.
    pub done_by: Option<NaiveDate>,
    /// The day until which a published window of the crop keeps full yield, in that year.
    pub window_until: Option<NaiveDate>,
    /// Seed to order for the area; `None` without an area or a seeding rate.
    #[serde(default)]
    pub seed: Option<SeedOrder>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// What the pace of a planter depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pacing {
    /// Rows times row width.
    pub width: Length,
    /// The speed that is advised.
    pub speed: Speed,
    /// The fastest that keeps contact; `None` where no load is known.
    pub contact: Option<Speed>,
    /// Likely load at the advised speed, hopper half full; negative when the unit rides out.
    pub load: Option<Force>,
    /// The crop.
    pub crop: Crop,
    /// The day of planting.
    pub date: Option<NaiveDate>,
}

/// Works out the pace at the advised speed, one step slower, and at the fastest safe speed.
///
/// `None` for a planter without width or speed.
pub fn work(it: &Pacing, goal: &Work, k: &Coefficients) -> Option<Advice<WorkAdvice>> {
    let (area, area_from) = match goal.area {
        Some(area) => (area, WorkArea::Given),
        None => (hundred_acres(), WorkArea::HundredAcres),
    };
    let day = Day::of(goal, k);
    let at = |speed: Speed| {
        let load = it.load.map(|load| load_at(load, it.speed, speed, k));
        day.pace(it.width, speed, area).map(|pace| pace.with_load(load, k))
    };
    let (limits, binds) = limits::limits(it.contact, k);
    let fastest = limits.iter().filter_map(|l| l.most).reduce(least).unwrap_or(it.speed);
    let advised = at(it.speed)?;
    let slower_speed = it.speed - Speed::from_si(k.speed_step.value * MPH);
    let slower = if slower_speed.si() >= CRAWL { at(slower_speed) } else { None };
    let price = slower
        .map(|slower| price::price(&advised, &slower, it.crop, it.date, goal.expected_yield_bu_ac));
    let done_by = it.date.and_then(|date| after(date, advised.calendar_days));
    let mut steps = day.steps(it.width, &advised, area, k);
    steps.extend(price.as_ref().zip(slower.as_ref()).map(|(p, s)| p.step(&advised, s)));
    let choice = WorkAdvice {
        area,
        area_from,
        advised,
        slower,
        fastest: at(fastest)?,
        price,
        limits,
        binds,
        done_by,
        window_until: it.date.and_then(|date| window_end(it.crop, date)),
        seed: None,
        steps,
    };
    Some(Advice {
        because: because(&choice, it, goal.expected_yield_bu_ac.is_some()),
        watch: WATCH.to_vec(),
        assumed: day.assumed,
        choice,
    })
}

/// Share of the calendar days that are fit: so many days of a span, both ends counted.
///
/// `None` where the span runs backwards, or holds fewer days than are fit, or where less than a
/// tenth of a day is.
pub fn suitable_share(days: f64, from: NaiveDate, to: NaiveDate) -> Option<f64> {
    let span = to.signed_duration_since(from).num_days().checked_add(1)?;
    let span = f64::from(u32::try_from(span).ok().filter(|span| *span > 0)?);
    (days >= 0.1 && days <= span).then(|| days / span)
}

fn because(choice: &WorkAdvice, it: &Pacing, expects_yield: bool) -> Vec<Reason> {
    let mut because = Vec::new();
    if let Some(price) = &choice.price {
        because.push(price.cost(choice.area, expects_yield));
        because.extend(price.gain());
    }
    because
        .extend(choice.limits.iter().filter(|l| l.bound == choice.binds).map(|l| l.reason.clone()));
    if let (Some(done), Some(until)) = (choice.done_by, choice.window_until) {
        because.push(window_words(it.crop, done, until));
    }
    because
}

fn window_words(crop: Crop, done: NaiveDate, until: NaiveDate) -> Reason {
    let (keeps, source) = match crop {
        Crop::Corn => ("corn in Iowa keeps 98 to 100 % if planted by about", sources::IOWA_WINDOW),
        Crop::Soybean => ("soybean in Iowa begins to lose after", sources::IOWA_SOY_WINDOW),
    };
    let text = format!(
        "done about {} at this pace; {keeps} {}, other areas differ",
        done.format("%-d %B"),
        until.format("%-d %B")
    );
    Reason::made(text, Mark::Read, source)
}

/// Load at another speed with the same down force: lost only above the reference speed.
pub(super) fn load_at(load: Force, from: Speed, to: Speed, k: &Coefficients) -> Force {
    let reference = k.reference_speed.value * MPH;
    let above = |speed: Speed| (speed.si() - reference).max(0.0) * 3.6;
    Force::from_si(load.si() + k.load_lost_to_speed.value * (above(from) - above(to)))
}

fn least(a: Speed, b: Speed) -> Speed {
    if b.si() < a.si() { b } else { a }
}

fn hundred_acres() -> Area {
    Area::from_si(unit("[acr_us]").map_or(0.0, |u| u.to_si(100.0)))
}

/// The day on which work that takes so many days is done; the first day counts as one.
fn after(date: NaiveDate, days: f64) -> Option<NaiveDate> {
    let whole = (0..MOST_DAYS).find(|n| f64::from(*n + 1) >= days)?;
    date.checked_add_days(Days::new(u64::from(whole)))
}

/// Iowa: corn keeps 98 to 100 % from about 12 April to 18 May; soybean declines after 20 May.
fn window_end(crop: Crop, date: NaiveDate) -> Option<NaiveDate> {
    use chrono::Datelike;
    let day = match crop {
        Crop::Corn => 18,
        Crop::Soybean => 20,
    };
    NaiveDate::from_ymd_opt(date.year(), 5, day)
}

const MPH: f64 = 0.447_04;
/// Slower than this nobody plants, m/s (1 mph).
const CRAWL: f64 = MPH;
/// Work of more than a year is no season's.
const MOST_DAYS: u32 = 366;

const WATCH: [Reason; 3] = [
    Reason::fixed(
        "turning and filling take as long at any speed, so that slower costs a little less than this",
        Mark::Derived,
        sources::DEFINITION,
    ),
    Reason::fixed(
        "yield by planting date scatters widely between years and regions: guidance, not a forecast",
        Mark::Read,
        sources::ILLINOIS_LOSS_2016,
    ),
    Reason::fixed(
        "spacing went with speed in all five conditions of one trial, whatever the down force: measure spacing at the speed you drive",
        Mark::Read,
        sources::OKLAHOMA_SPEED,
    ),
];
