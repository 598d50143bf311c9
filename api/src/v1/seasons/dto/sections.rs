//! Wear, stands, trials, land and hours, and the list for the shed.

use chrono::NaiveDate;
use domain::quantity::{Area, Length, Measured, System, Time, bounds};
use domain::season::report::{
    FieldStand, MoneyAndTime, MoneyLine, ShedItem, TrialEffect, TrialSummary, WornPart,
};
use serde::Serialize;
use utoipa::ToSchema;

use super::SubjectNamed;
use crate::http::quantity::{Quantity, six_digits};
use crate::v1::conditions::Crop;
use crate::v1::mirror::mirror;
use crate::v1::recommendations::show::Show;

mirror! {
    /// Where an entry of the list for the shed comes from.
    ShedReason = domain::season::report::ShedReason { OpenReplacement Wear Digs }
}

/// Wear over an area of planted land.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "wear": {"value": 0.12, "unit": "[in_i]"}, "over": {"value": 1000, "unit": "[acr_us]"}
})))]
pub struct WearRate {
    /// What goes off.
    pub wear: Quantity,
    /// Over how much land.
    pub over: Quantity,
}

impl WearRate {
    /// By area, in m for each m².
    fn of(per_area: f64, show: Show) -> Self {
        // A thousand acres, or five hundred hectares.
        let square_metres = match show.0 {
            System::Us => 1000.0 * 4_046.872_609_874_252,
            System::Si => 500.0 * 1e4,
        };
        let wear = Length::from_si(per_area * square_metres);
        let area = Area::from_si(square_metres);
        Self {
            wear: Quantity::show(&bounds::WEAR_OVER_AREA, wear, show.0),
            over: Quantity::show(&bounds::PLANTED_AREA, area, show.0),
        }
    }
}

/// A part that wears, as last measured.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = WornPart, examples(json!({
    "planter": {"id": "01964f1e-6a00-7000-8000-000000000005", "name": "Eight row"},
    "part": "opener_diameter", "words": "diameter of the opener discs", "rows": [],
    "measured_on": "2027-03-12", "measured": {"value": 14.6, "unit": "[in_i]"},
    "limit": {"value": 14.5, "unit": "[in_i]"},
    "wear_rate": {"wear": {"value": 0.12, "unit": "[in_i]"}, "over": {"value": 1000, "unit": "[acr_us]"}},
    "area_left": {"value": 830, "unit": "[acr_us]"}, "at_limit_on": "2027-05-14", "replace": false
})))]
pub struct WornPartOut {
    /// The planter.
    pub planter: SubjectNamed,
    /// Code of the part.
    #[schema(example = "opener_diameter")]
    pub part: String,
    /// The part in words.
    #[schema(example = "diameter of the opener discs")]
    pub words: String,
    /// The rows; empty means all.
    #[schema(example = json!([3, 4]))]
    pub rows: Vec<u16>,
    /// When it was last measured.
    #[schema(example = "2027-03-12")]
    pub measured_on: NaiveDate,
    /// What was measured.
    pub measured: Quantity,
    /// Its limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub limit: Option<Quantity>,
    /// How fast it wears.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub wear_rate: Option<WearRate>,
    /// Land that it still plants before it is at its limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area_left: Option<Quantity>,
    /// When it will be at its limit, as the season goes.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-14")]
    pub at_limit_on: Option<NaiveDate>,
    /// Whether it is at its limit, or its replacement is open.
    #[schema(example = false)]
    pub replace: bool,
}

impl WornPartOut {
    pub(super) fn of(it: WornPart, show: Show) -> Self {
        let WornPart {
            planter,
            part,
            words,
            rows,
            measured_on,
            measured,
            limit,
            wear_per_area,
            area_left,
            at_limit_on,
            replace,
        } = it;
        let length = |it: Length| Quantity::show(&bounds::DISC_DIAMETER, it, show.0);
        Self {
            planter: planter.into(),
            part,
            words,
            rows,
            measured_on,
            measured: length(measured),
            limit: limit.map(length),
            wear_rate: wear_per_area.map(|it| WearRate::of(it, show)),
            area_left: area_left.map(|it| Quantity::show(&bounds::PLANTED_AREA, it, show.0)),
            at_limit_on,
            replace,
        }
    }
}

/// A stand that was counted.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = SeasonStand, examples(json!({
    "field": {"id": "01964f1e-6a00-7000-8000-000000000004", "name": "North forty"},
    "crop": "corn", "planted_on": "2027-04-29", "counted_on": "2027-05-20",
    "population": {"value": 31200, "unit": "1/[acr_us]"},
    "population_low": {"value": 29800, "unit": "1/[acr_us]"},
    "population_high": {"value": 32600, "unit": "1/[acr_us]"},
    "emergence": 0.92, "words": "31,200 plants an acre, 92 % of the seed"
})))]
pub struct StandOfField {
    /// The field.
    pub field: SubjectNamed,
    /// The crop.
    pub crop: Crop,
    /// The day of planting.
    #[schema(example = "2027-04-29")]
    pub planted_on: NaiveDate,
    /// The day of the count.
    #[schema(example = "2027-05-20")]
    pub counted_on: NaiveDate,
    /// Plants by area.
    pub population: Quantity,
    /// Low limit, 95 %.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub population_low: Option<Quantity>,
    /// High limit, 95 %.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub population_high: Option<Quantity>,
    /// Plants of the seeds that were dropped.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, example = 0.92)]
    pub emergence: Option<f64>,
    /// What it says, in words.
    #[schema(example = "31,200 plants an acre, 92 % of the seed")]
    pub words: String,
}

impl StandOfField {
    pub(super) fn of(it: FieldStand, show: Show) -> Self {
        let FieldStand {
            field,
            crop,
            planted_on,
            counted_on,
            population,
            population_low,
            population_high,
            emergence,
            words,
        } = it;
        Self {
            field: field.into(),
            crop: crop.into(),
            planted_on,
            counted_on,
            population: show.population(population),
            population_low: population_low.map(|it| show.population(it)),
            population_high: population_high.map(|it| show.population(it)),
            emergence: emergence.map(six_digits),
            words,
        }
    }
}

/// A difference between two treatments, in the unit of the trial.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = SeasonTrialEffect, examples(json!({
    "treatment": "spiked closing wheels", "against": "cast wheels",
    "difference": 0.04, "low": 0.01, "high": 0.07, "p": 0.018
})))]
pub struct TrialEffectOut {
    /// The treatment.
    #[schema(example = "spiked closing wheels")]
    pub treatment: String,
    /// What it is held against.
    #[schema(example = "cast wheels")]
    pub against: String,
    /// Treatment less the other.
    #[schema(example = 0.04)]
    pub difference: f64,
    /// Low limit, 95 %; absent without replication.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.01)]
    pub low: Option<f64>,
    /// High limit, 95 %.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.07)]
    pub high: Option<f64>,
    /// The p-value; absent without replication.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.018)]
    pub p: Option<f64>,
}

impl From<TrialEffect> for TrialEffectOut {
    fn from(it: TrialEffect) -> Self {
        let TrialEffect { treatment, against, difference, low, high, p } = it;
        let shown = |it: Option<f64>| it.map(six_digits);
        Self {
            treatment,
            against,
            difference: six_digits(difference),
            low: shown(low),
            high: shown(high),
            p: shown(p),
        }
    }
}

/// A trial and what can be concluded.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = SeasonTrial, examples(json!({
    "trial": {"id": "01964f1e-6a00-7000-8000-000000000071", "name": "Closing wheels"},
    "response": "emergence", "unit": "1", "design": "4 blocks, randomised", "effects": [],
    "verdict": "no difference that these plots could show"
})))]
pub struct TrialOut {
    /// The trial.
    pub trial: SubjectNamed,
    /// What was measured.
    #[schema(example = "emergence")]
    pub response: String,
    /// UCUM code of its unit.
    #[schema(example = "1")]
    pub unit: String,
    /// The design, in words.
    #[schema(example = "4 blocks, randomised")]
    pub design: String,
    /// Differences between treatments.
    pub effects: Vec<TrialEffectOut>,
    /// What can and what can't be concluded.
    #[schema(example = "no difference that these plots could show")]
    pub verdict: String,
}

impl From<TrialSummary> for TrialOut {
    fn from(it: TrialSummary) -> Self {
        let TrialSummary { trial, response, unit, design, effects, verdict } = it;
        let effects = effects.into_iter().map(Into::into).collect();
        Self { trial: trial.into(), response, unit, design, effects, verdict }
    }
}

/// Money, from prices that were entered.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = SeasonMoney, examples(json!({
    "words": "planting: seed, trip and work", "currency": "USD", "amount": 12400, "entries": 14
})))]
pub struct MoneyLineOut {
    /// What for.
    #[schema(example = "planting: seed, trip and work")]
    pub words: String,
    /// Code of the currency (ISO 4217).
    #[schema(example = "USD")]
    pub currency: String,
    /// How much.
    #[schema(example = 12400)]
    pub amount: f64,
    /// Entries behind it.
    #[schema(example = 14)]
    pub entries: u32,
}

impl From<MoneyLine> for MoneyLineOut {
    fn from(it: MoneyLine) -> Self {
        let MoneyLine { words, currency, amount, entries } = it;
        Self { words, currency, amount: six_digits(amount), entries }
    }
}

/// Land, hours and prices, where they are known. Nothing is made up.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = MoneyAndTime, examples(json!({
    "plantings": 52, "planted": {"value": 4310, "unit": "[acr_us]"},
    "plantings_with_hours": 40, "planted_with_hours": {"value": 3320, "unit": "[acr_us]"},
    "hours": 166, "area_per_hour": {"value": 20, "unit": "[acr_us]"}, "money": []
})))]
pub struct MoneyAndTimeOut {
    /// Plantings that were reported.
    #[schema(example = 52)]
    pub plantings: u32,
    /// Land that was planted.
    pub planted: Quantity,
    /// Plantings whose hours were reported.
    #[schema(example = 40)]
    pub plantings_with_hours: u32,
    /// The land of these.
    pub planted_with_hours: Quantity,
    /// Their hours.
    #[schema(example = 166)]
    pub hours: f64,
    /// Land by hour, of the plantings whose hours were reported.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area_per_hour: Option<Quantity>,
    /// Prices that somebody entered, added up.
    pub money: Vec<MoneyLineOut>,
}

impl MoneyAndTimeOut {
    pub(super) fn of(it: MoneyAndTime, show: Show) -> Self {
        let MoneyAndTime {
            plantings,
            planted,
            plantings_with_hours,
            planted_with_hours,
            hours,
            money,
        } = it;
        let area = |it: Area| Quantity::show(&bounds::PLANTED_AREA, it, show.0);
        let per_hour = |hours: Time| {
            let hours = hours.si() / 3600.0;
            (hours > 0.0).then(|| area(Area::from_si(planted_with_hours.si() / hours)))
        };
        Self {
            plantings,
            planted: area(planted),
            plantings_with_hours,
            planted_with_hours: area(planted_with_hours),
            hours: six_digits(hours.si() / 3600.0),
            area_per_hour: per_hour(hours),
            money: money.into_iter().map(Into::into).collect(),
        }
    }
}

/// Something to be mended, or looked at, in the shed.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = ShedItem, examples(json!({
    "planter": {"id": "01964f1e-6a00-7000-8000-000000000005", "name": "Eight row"},
    "reason": "digs", "words": "residue was bent, not cut: disc edge and touch", "rows": [],
    "digs": 3, "day": "2027-05-12"
})))]
pub struct ShedItemOut {
    /// The planter.
    pub planter: SubjectNamed,
    /// Where the entry comes from.
    pub reason: ShedReason,
    /// What, in words.
    #[schema(example = "residue was bent, not cut: disc edge and touch")]
    pub words: String,
    /// The rows; empty means all, or not known.
    #[schema(example = json!([3, 4]))]
    pub rows: Vec<u16>,
    /// Digs that pointed to it.
    #[schema(example = 3)]
    pub digs: u32,
    /// Since when, when it was last seen, or when it will be at its limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-12")]
    pub day: Option<NaiveDate>,
}

impl From<ShedItem> for ShedItemOut {
    fn from(it: ShedItem) -> Self {
        let ShedItem { planter, reason, words, rows, digs, day } = it;
        Self { planter: planter.into(), reason: reason.into(), words, rows, digs, day }
    }
}
