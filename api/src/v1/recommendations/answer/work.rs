//! Acres, days and the price of speed, in the caller's units.

use chrono::NaiveDate;
use domain::provenance::Advice;
use domain::quantity::{System, bounds};
use domain::settings::{AreaRate, Pace, PriceOfSpeed, SpeedLimit, WorkAdvice};
use domain::stand::{Loss, LossRange, SourcedLoss};
use serde::Serialize;
use utoipa::ToSchema;

use super::seed_order::SeedOrderOut;
use crate::http::quantity::{Quantity, six_digits};
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::work::{LossUnit, SpeedBound, WorkArea};
use crate::v1::trace::{self, Assumed, Mark, Reason, reasons};

/// How fast the ground is covered, what bounds the speed, and what going slower costs and gains.
#[derive(Debug, Serialize, ToSchema)]
pub struct WorkOut {
    /// The area that the days are for.
    pub area: Quantity,
    /// Where it comes from.
    pub area_from: WorkArea,
    /// At the advised speed.
    pub advised: PaceOut,
    /// One mile an hour slower; absent at a crawl.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub slower: Option<PaceOut>,
    /// At the fastest speed that keeps contact and metering.
    pub fastest: PaceOut,
    /// What the slower pace costs and gains.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub price: Option<PriceOfSpeedOut>,
    /// What bounds the speed.
    #[schema(max_items = 10)]
    pub limits: Vec<SpeedLimitOut>,
    /// Which of them binds.
    pub binds: SpeedBound,
    /// The day on which the area is done at the advised pace; absent without a planting date.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub done_by: Option<NaiveDate>,
    /// The day until which a published window of the crop keeps full yield, in that year.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub window_until: Option<NaiveDate>,
    /// Seed to order for the area; absent without an area or a seeding rate.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seed: Option<SeedOrderOut>,
    /// Why: first what one mile an hour less costs, then what it gains.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// What stood in for what nobody told.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
}

impl WorkOut {
    /// In these units.
    pub fn of(advice: &Advice<WorkAdvice>, system: System) -> Self {
        let show = Show(system);
        let choice = &advice.choice;
        let pace = |it: &Pace| PaceOut::of(it, show);
        Self {
            area: Quantity::show(&bounds::FIELD_AREA, choice.area, system),
            area_from: choice.area_from.into(),
            advised: pace(&choice.advised),
            slower: choice.slower.as_ref().map(pace),
            fastest: pace(&choice.fastest),
            price: choice.price.as_ref().map(|price| PriceOfSpeedOut::of(price, show)),
            limits: choice.limits.iter().map(|limit| SpeedLimitOut::of(limit, show)).collect(),
            binds: choice.binds.into(),
            done_by: choice.done_by,
            window_until: choice.window_until,
            seed: choice.seed.as_ref().map(|order| SeedOrderOut::of(order, system)),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
            assumed: trace::assumed(advice.assumed.clone()),
        }
    }
}

/// Area an hour.
pub fn area_an_hour(rate: AreaRate, system: System) -> Quantity {
    match system {
        System::Us => Quantity::new(six_digits(rate.acres_an_hour()), "[acr_us]/h"),
        System::Si => Quantity::new(six_digits(rate.hectares_an_hour()), "har/h"),
    }
}

/// One speed, what it covers, and what it does to contact.
#[derive(Debug, Serialize, ToSchema)]
pub struct PaceOut {
    /// Ground speed.
    pub speed: Quantity,
    /// Area an hour with turning and filling.
    pub capacity: Quantity,
    /// Days of work for the area.
    #[schema(minimum = 0, example = 3.67)]
    pub working_days: f64,
    /// Calendar days, with the share of days that are fit.
    #[schema(minimum = 0, example = 7.6)]
    pub calendar_days: f64,
    /// Low end (5 %) of the calendar days.
    #[schema(minimum = 0, example = 4.9)]
    pub calendar_low: f64,
    /// High end (95 %) of the calendar days.
    #[schema(minimum = 0, example = 13.8)]
    pub calendar_high: f64,
    /// Likely gauge-wheel load at the advised down force, hopper half full.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub load: Option<Quantity>,
    /// Share of the time, 0 to 1, that a wheel may be off the ground at that load.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.05)]
    pub contact_loss: Option<f64>,
}

impl PaceOut {
    fn of(it: &Pace, show: Show) -> Self {
        Self {
            speed: show.speed(it.speed),
            capacity: area_an_hour(it.capacity, show.0),
            working_days: share(it.working_days),
            calendar_days: share(it.calendar_days),
            calendar_low: share(it.calendar_low),
            calendar_high: share(it.calendar_high),
            load: it.load.map(|force| show.load(force)),
            contact_loss: it.contact_loss.map(six_digits),
        }
    }
}

/// The price of going slower, beside its gain.
#[derive(Debug, Serialize, ToSchema)]
pub struct PriceOfSpeedOut {
    /// How much slower.
    pub slower_by: Quantity,
    /// Calendar days more for the area.
    #[schema(minimum = 0, example = 1.91)]
    pub extra_days: f64,
    /// Low end of the days more.
    #[schema(minimum = 0, example = 1.2)]
    pub extra_low: f64,
    /// High end of the days more.
    #[schema(minimum = 0, example = 3.4)]
    pub extra_high: f64,
    /// Yield lost over all the ground because it is planted later; absent without a planting date.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lost: Option<LossOut>,
    /// Gauge-wheel load gained on each row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub load_gained: Option<Quantity>,
    /// Share of the time, 0 to 1, off the ground at the advised speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.07)]
    pub contact_loss_from: Option<f64>,
    /// The same, slower.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.05)]
    pub contact_loss_to: Option<f64>,
}

impl PriceOfSpeedOut {
    fn of(it: &PriceOfSpeed, show: Show) -> Self {
        Self {
            slower_by: show.speed(it.slower_by),
            extra_days: share(it.extra_days),
            extra_low: share(it.extra_low),
            extra_high: share(it.extra_high),
            lost: it.lost.as_ref().map(LossOut::of),
            load_gained: it.load_gained.map(|force| show.load(force)),
            contact_loss_from: it.contact_loss_from.map(six_digits),
            contact_loss_to: it.contact_loss_to.map(six_digits),
        }
    }
}

/// One limit of the speed.
#[derive(Debug, Serialize, ToSchema)]
pub struct SpeedLimitOut {
    /// What bounds it.
    pub bound: SpeedBound,
    /// The fastest it allows; absent where nobody published a figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub most: Option<Quantity>,
    /// Why.
    pub reason: Reason,
}

impl SpeedLimitOut {
    fn of(it: &SpeedLimit, show: Show) -> Self {
        Self {
            bound: it.bound.into(),
            most: it.most.map(|speed| show.speed(speed)),
            reason: it.reason.clone().into(),
        }
    }
}

/// Yield lost, as the published sources have it. Guidance: years and regions scatter widely.
#[derive(Debug, Serialize, ToSchema)]
pub struct LossOut {
    /// Percent of the best yield; absent where no source gives one and no yield is expected.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub percent: Option<LossRangeOut>,
    /// Bushels an acre; absent where no source gives them and no yield is expected.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bushels_per_acre: Option<LossRangeOut>,
    /// Source by source; empty outside the dates they cover.
    #[schema(max_items = 100)]
    pub by_source: Vec<SourcedLossOut>,
}

impl LossOut {
    /// A loss on the wire.
    pub fn of(it: &Loss) -> Self {
        Self {
            percent: it.percent.map(LossRangeOut::of),
            bushels_per_acre: it.bushels.map(LossRangeOut::of),
            by_source: it.by_source.iter().map(SourcedLossOut::of).collect(),
        }
    }
}

/// From the least of the sources to the most; below 0 where waiting gains.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"low": 0.3, "high": 0.8})))]
pub struct LossRangeOut {
    /// Low end.
    #[schema(example = 0.3)]
    pub low: f64,
    /// High end.
    #[schema(example = 0.8)]
    pub high: f64,
}

impl LossRangeOut {
    /// To the hundredth.
    pub fn of(it: LossRange) -> Self {
        Self { low: share(it.low), high: share(it.high) }
    }
}

/// What one source says.
#[derive(Debug, Serialize, ToSchema)]
pub struct SourcedLossOut {
    /// Where it was found.
    #[schema(example = "Illinois")]
    pub region: String,
    /// When it was published; `n.d.` when the source shows no date.
    #[schema(example = "2013")]
    pub year: String,
    /// Low end, in `unit`.
    #[schema(example = 0.67)]
    pub low: f64,
    /// High end, in `unit`.
    #[schema(example = 0.67)]
    pub high: f64,
    /// In what it is given.
    pub unit: LossUnit,
    /// How it is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "read in the source")]
    pub mark_words: String,
    /// The citation.
    #[schema(
        example = "University of Illinois, as reported in the farm press, 2013. Corn yield loss by planting date"
    )]
    pub source: String,
}

impl SourcedLossOut {
    fn of(it: &SourcedLoss) -> Self {
        Self {
            region: it.region.to_string(),
            year: it.year.to_string(),
            low: share(it.low),
            high: share(it.high),
            unit: it.unit.into(),
            mark: it.mark.into(),
            mark_words: it.mark.words().to_owned(),
            source: it.source.to_string(),
        }
    }
}
