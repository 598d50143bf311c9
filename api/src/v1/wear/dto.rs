//! What goes over the wire.

use chrono::NaiveDate;
use domain::planter::inspection::{
    AreaLeft, Direction, Item, Measure, NoRate, Outlook, Rate, RateFrom, RowForecast, direction,
    worst,
};
use domain::quantity::{Length, Measured, System, bounds};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::history::{Planned, Wearing, wearing};
use crate::http::quantity::Quantity;
use crate::v1::inspections::{InspectionItemCode, show_area, show_measure};
use crate::v1::mirror::mirror;
use crate::v1::plain::quantity;
use crate::v1::wear_limits::limit_out::LimitOut;

mirror! {
    /// Whether a part lasts through what is planned: it is `worn_out` now, it `wears_out` before the end,
    /// it `may_wear_out` if it wears as fast as the readings leave open, it `lasts`, or it is `not_known`.
    WearOutlook = Outlook { NotKnown Lasts MayWearOut WearsOut WornOut }

    /// Where the rate comes from: two `readings` of this row, the `other_rows` of the planter, or the
    /// `definition` of what is counted.
    WearRateFrom = RateFrom { Readings OtherRows Definition }

    /// Why a row has no rate of its own.
    NoWearRate = NoRate { OneReading NoArea Grew }
}

/// How the parts of a planter wear.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "planter_id": "01964f1e-6a00-7000-8000-000000000005",
    "today": "2027-05-02",
    "planted_this_season": {"value": 212, "unit": "[acr_us]"},
    "plan": {
        "area": {"value": 600, "unit": "[acr_us]"},
        "planted": {"value": 212, "unit": "[acr_us]"},
        "left": {"value": 388, "unit": "[acr_us]"},
        "from": "2027-04-20", "until": "2027-05-20", "since": "2027-03-12"
    },
    "items": [],
    "notes": []
})))]
pub struct WearReport {
    /// The planter.
    pub planter_id: Uuid,
    /// The day for which it is worked out, in the time zone of the practice.
    #[schema(example = "2027-05-02")]
    pub today: NaiveDate,
    /// What was reported as planted this season.
    pub planted_this_season: Quantity,
    /// What was planned at an inspection; absent where nobody said, or when its last day has passed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub plan: Option<PlanOut>,
    /// Items that wear or are used up, as far as somebody measured them.
    #[schema(max_items = 100)]
    pub items: Vec<WearItem>,
    /// What to know about these figures.
    #[schema(max_items = 20, example = json!(["2 plantings have no area and are not counted."]))]
    pub notes: Vec<String>,
}

/// What is planned, and what of it is planted.
#[derive(Debug, Serialize, ToSchema)]
pub struct PlanOut {
    /// What was planned.
    pub area: Quantity,
    /// What of it is planted.
    pub planted: Quantity,
    /// What is left.
    pub left: Quantity,
    /// First day of planting.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-04-20")]
    pub from: Option<NaiveDate>,
    /// Last day of planting.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-20")]
    pub until: Option<NaiveDate>,
    /// The day of the inspection that says so.
    #[schema(example = "2027-03-12")]
    pub since: NaiveDate,
}

/// How one part wears, row by row.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "item": "opener_diameter", "name": "Diameter of the opener discs",
    "rows": [{
        "row": 4, "read_on": "2027-03-12", "value": {"value": 14.625, "unit": "[in_i]"},
        "wear": {
            "over": {"value": 1000, "unit": "[acr_us]"},
            "low": {"value": 0.04, "unit": "[in_i]"},
            "likely": {"value": 0.125, "unit": "[in_i]"},
            "high": {"value": 0.21, "unit": "[in_i]"}
        },
        "rate_from": "readings",
        "area_left": {
            "early": {"value": 420, "unit": "[acr_us]"},
            "likely": {"value": 1000, "unit": "[acr_us]"},
            "late": {"value": 4000, "unit": "[acr_us]"}
        },
        "reaches_on": {},
        "outlook": "may_wear_out"
    }],
    "worst_row": 4,
    "outlook": "may_wear_out",
    "words": "Row 4 comes first: about 1000 ac are left, 420 to 4000."
})))]
pub struct WearItem {
    /// The item.
    pub item: InspectionItemCode,
    /// Its name.
    #[schema(example = "Diameter of the opener discs")]
    pub name: String,
    /// The limit; absent where none is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub limit: Option<LimitOut>,
    /// Each row that has a reading.
    #[schema(max_items = 64)]
    pub rows: Vec<WearRow>,
    /// The row that is worn out first.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 64, example = 4)]
    pub worst_row: Option<u16>,
    /// How far rows lie apart, where several have a reading.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub spread: Option<WearSpread>,
    /// That of the row that is worn out first.
    pub outlook: WearOutlook,
    /// All that in a sentence.
    #[schema(example = "Row 4 comes first: about 1000 ac are left, 420 to 4000.")]
    pub words: String,
}

/// How one part wears on one row.
#[derive(Debug, Serialize, ToSchema)]
pub struct WearRow {
    /// The row; absent for what the planter has once.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 64, example = 4)]
    pub row: Option<u16>,
    /// The day of the last reading, or on which a new part was put in.
    #[schema(example = "2027-03-12")]
    pub read_on: NaiveDate,
    /// What was read, or the size of the new part.
    pub value: Quantity,
    /// Wear for each so much area.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub wear: Option<WearOver>,
    /// Where the rate comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub rate_from: Option<WearRateFrom>,
    /// Why the row has no rate of its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub no_rate: Option<NoWearRate>,
    /// The same in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        example = "there is one reading only: a second one after some acres gives the wear for each acre"
    )]
    pub no_rate_words: Option<String>,
    /// Area until the limit, from now; absent where no limit or no rate is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area_left: Option<AreaLeftOut>,
    /// The days on which it reaches the limit, as far as they lie within the plan.
    pub reaches_on: ReachesOn,
    /// Whether it lasts through what is planned.
    pub outlook: WearOutlook,
}

/// Wear for each so much area, with the 5 % and 95 % ends of what the readings leave open.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "over": {"value": 1000, "unit": "[acr_us]"},
    "low": {"value": 0.04, "unit": "[in_i]"},
    "likely": {"value": 0.125, "unit": "[in_i]"},
    "high": {"value": 0.21, "unit": "[in_i]"}
})))]
pub struct WearOver {
    /// The area.
    pub over: Quantity,
    /// Low end.
    pub low: Quantity,
    /// What follows from the readings.
    pub likely: Quantity,
    /// High end.
    pub high: Quantity,
}

/// Area until the limit. An end is absent where the limit never comes at that rate.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "early": {"value": 420, "unit": "[acr_us]"}, "likely": {"value": 1000, "unit": "[acr_us]"}
})))]
pub struct AreaLeftOut {
    /// If it wears as fast as the readings leave open.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub early: Option<Quantity>,
    /// As the readings say.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub likely: Option<Quantity>,
    /// If it wears as slowly as the readings leave open.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub late: Option<Quantity>,
}

/// Days on which a part reaches its limit. Absent beyond the plan.
#[derive(Debug, Default, Serialize, ToSchema)]
#[schema(examples(json!({"early": "2027-05-04", "likely": "2027-05-18"})))]
pub struct ReachesOn {
    /// If it wears as fast as the readings leave open.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-04")]
    pub early: Option<NaiveDate>,
    /// As the readings say.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-18")]
    pub likely: Option<NaiveDate>,
    /// If it wears as slowly as the readings leave open.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-20")]
    pub late: Option<NaiveDate>,
}

/// How far rows lie apart.
#[derive(Debug, Serialize, ToSchema)]
pub struct WearSpread {
    /// The most worn row.
    pub most_worn: Quantity,
    /// The least worn row.
    pub least_worn: Quantity,
}

impl WearReport {
    /// The report of a planter.
    pub(super) fn of(
        planter_id: Uuid,
        wearing_parts: &Wearing<'_>,
        this_season: f64,
        system: System,
    ) -> Self {
        let own = wearing().filter(|item| item.needs.has(&wearing_parts.shed.planter));
        let items = own.filter_map(|item| WearItem::of(item, wearing_parts, system)).collect();
        Self {
            planter_id,
            today: wearing_parts.today,
            planted_this_season: show_area(this_season, system),
            plan: wearing_parts.planned().map(|planned| PlanOut::of(&planned, system)),
            items,
            notes: notes(wearing_parts),
        }
    }
}

fn notes(it: &Wearing<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    let unknown = it.acres.without_area;
    if unknown > 0 {
        notes.push(format!("{unknown} plantings have no area and are not counted."));
    }
    if it.acres.by_counter > 0 {
        notes.push(
            "Between inspections that read it, the counter of the planter says what was planted."
                .to_owned(),
        );
    }
    if it.planned().is_none() {
        notes.push(
            "Nobody said what is to be planted from now on: enter it with an inspection."
                .to_owned(),
        );
    }
    notes
}

impl PlanOut {
    fn of(planned: &Planned, system: System) -> Self {
        let Planned { plan, since, done } = planned;
        let show = |area| show_area(area, system);
        Self {
            area: show(plan.area),
            planted: show(done.max(0.0)),
            left: show(plan.left(*done)),
            from: plan.from,
            until: plan.until,
            since: *since,
        }
    }
}

impl WearItem {
    /// `None` where nobody measured it.
    pub(in crate::v1) fn of(item: &Item, wearing: &Wearing<'_>, system: System) -> Option<Self> {
        let measure = item.measure?;
        let forecasts = wearing.forecast(item);
        let first = worst(&forecasts)?;
        let rows: Vec<WearRow> = forecasts
            .iter()
            .filter_map(|row| WearRow::of(item, row, (wearing, &measure, system)))
            .collect();
        let value = |worn: f64| show_measure(&measure, turned_back(item, worn), system);
        let worn = forecasts.iter().map(|row| row.last.worn);
        let most = worn.clone().fold(f64::NEG_INFINITY, f64::max);
        let least = worn.fold(f64::INFINITY, f64::min);
        let spread = (forecasts.len() > 1)
            .then(|| WearSpread { most_worn: value(most), least_worn: value(least) });
        Some(Self {
            item: item.code.into(),
            name: item.name.to_owned(),
            limit: LimitOut::of(item, wearing.shed, system),
            rows,
            worst_row: first.row,
            spread,
            outlook: first.outlook.into(),
            words: words(first, system),
        })
    }
}

impl WearRow {
    fn of(
        item: &Item,
        row: &RowForecast,
        (wearing, measure, system): (&Wearing<'_>, &Measure, System),
    ) -> Option<Self> {
        let rate = row.rate.filter(|_| matches!(measure, Measure::Wear(_)));
        let [early, likely, late] = row.days;
        Some(Self {
            row: row.row,
            read_on: wearing.read_on(item, row.row)?,
            value: show_measure(measure, turned_back(item, row.last.worn), system),
            wear: rate.map(|(rate, _)| WearOver::of(rate, system)),
            rate_from: row.rate.map(|(_, from)| from.into()),
            no_rate: row.no_rate.map(Into::into),
            no_rate_words: row.no_rate.map(|why| why.to_string()),
            area_left: row.left.map(|left| AreaLeftOut::of(left, system)),
            reaches_on: ReachesOn { early, likely, late },
            outlook: row.outlook.into(),
        })
    }
}

/// A worn value as it was read.
fn turned_back(item: &Item, worn: f64) -> f64 {
    if direction(item.code) == Some(Direction::Falls) { -worn } else { worn }
}

impl WearOver {
    fn of(rate: Rate, system: System) -> Self {
        let code = match system {
            System::Us => "[acr_us]",
            System::Si => "har",
        };
        let hundreds = match system {
            System::Us => 1000.0,
            System::Si => 100.0,
        };
        let area = domain::quantity::unit(code).map_or(0.0, |unit| unit.to_si(hundreds));
        let over = Quantity::new(hundreds, code);
        let show = |rate: f64| {
            Quantity::show(&bounds::WEAR_OVER_AREA, Length::from_si(rate * area), system)
        };
        Self { over, low: show(rate.low), likely: show(rate.likely), high: show(rate.high) }
    }
}

impl AreaLeftOut {
    fn of(left: AreaLeft, system: System) -> Self {
        let show = |area: Option<f64>| area.map(|area| show_area(area, system));
        Self { early: show(left.early), likely: show(left.likely), late: show(left.late) }
    }
}

/// The row that comes first, in a sentence.
fn words(first: &RowForecast, system: System) -> String {
    let row = first.row.map_or_else(|| "It".to_owned(), |row| format!("Row {row}"));
    let Some(left) = first.left else {
        return match first.no_rate {
            Some(why) => format!("{row}: {why}."),
            None => format!("{row} is worn most; no limit is known, enter that of the manual."),
        };
    };
    if first.outlook == Outlook::WornOut {
        return format!("{row} is at its limit now.");
    }
    let area = |area: f64| {
        let shown = show_area(area, system);
        quantity(&Quantity { value: shown.value.round(), ..shown })
    };
    let ends = match (left.early, left.late) {
        (Some(early), Some(late)) => format!("{} to {}", area(early), area(late)),
        (Some(early), None) => format!("{} or more", area(early)),
        (None, _) => "it can't be said how many".to_owned(),
    };
    match left.likely {
        Some(likely) => format!("{row} comes first: about {} are left ({ends}).", area(likely)),
        None => format!("{row} comes first: no wear was seen between the readings ({ends})."),
    }
}
