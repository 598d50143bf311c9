//! What a stand count says, in the caller's units.

use chrono::{DateTime, NaiveDate, Utc};
use domain::quantity::{ArealNumberDensity, Length, System, bounds};
use domain::stand::{
    self, Gaps, PercentRange, Population, StandFound, StandSpacing, StandUnits, Uneven,
};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::notices::StandNotice;
use super::observation::StandMethodIn;
use super::store::{self, Stored};
use crate::entities::stand_counts;
use crate::http::ApiError;
use crate::http::page::Total;
use crate::http::quantity::{Quantity, six_digits};
use crate::v1::mirror::mirror;
use crate::v1::trace::{self, Reason, TraceStep};
use crate::v1::units::Units;

mirror! {
    /// What an interval rests on: `places` of the field, or the `counts` of one place, for which alone
    /// it then holds.
    StandUnit = StandUnits { Places Counts }
}

/// A figure with its limits at 95 %.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "value": {"value": 30700, "unit": "1/[acr_us]"},
    "low": {"value": 28900, "unit": "1/[acr_us]"},
    "high": {"value": 32500, "unit": "1/[acr_us]"}
})))]
pub struct StandFigure {
    /// The figure.
    pub value: Quantity,
    /// Low limit; absent where one count can't tell.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub low: Option<Quantity>,
    /// High limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub high: Option<Quantity>,
}

/// The stand of one place.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "place": 1, "counts": 2, "population": {"value": 31000, "unit": "1/[acr_us]"}
})))]
pub struct StandPlace {
    /// The place.
    #[schema(minimum = 1, example = 1)]
    pub place: u16,
    /// Counts there.
    #[schema(minimum = 1, example = 2)]
    pub counts: u32,
    /// Plants on an area.
    pub population: Quantity,
}

/// Gaps in the rows that were counted.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "count": 1, "long": 0, "lost": {"value": 1.5, "unit": "[ft_i]"},
    "longest": {"value": 1.5, "unit": "[ft_i]"}, "share": {"value": 2.87, "unit": "%"},
    "loss_low": {"value": 0, "unit": "%"}, "loss_high": {"value": 2, "unit": "%"}, "because": []
})))]
pub struct StandGaps {
    /// Gaps that count: of 1 ft and more in corn, above 2 ft in soybean.
    #[schema(minimum = 0, example = 1)]
    pub count: u32,
    /// Corn: those of 4 ft and more.
    #[schema(minimum = 0, example = 0)]
    pub long: u32,
    /// Length of row in them.
    pub lost: Quantity,
    /// The longest of all.
    pub longest: Quantity,
    /// Share of the row that lies in them.
    pub share: Quantity,
    /// Further loss of yield on top of that of a thin stand: low end; absent where no figure is
    /// published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub loss_low: Option<Quantity>,
    /// High end.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub loss_high: Option<Quantity>,
    /// The rules.
    #[schema(max_items = 10)]
    pub because: Vec<Reason>,
}

/// How the plants stand along the row.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "spacings": 30, "mean": {"value": 6.8, "unit": "[in_i]"}, "sd": {"value": 2.9, "unit": "[in_i]"},
    "meant": {"value": 6.15, "unit": "[in_i]"}, "multiples": {"value": 3.3, "unit": "%"},
    "misses": {"value": 6.7, "unit": "%"}, "loss_low_bu_ac": 2.25, "loss_high_bu_ac": 3.6
})))]
pub struct StandSpacingOut {
    /// Distances that were measured.
    #[schema(minimum = 1, example = 30)]
    pub spacings: u32,
    /// Their mean.
    pub mean: Quantity,
    /// Their standard deviation.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// The distance that was meant, from the seeds of the planting.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub meant: Option<Quantity>,
    /// Distances of at most half of what was meant.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub multiples: Option<Quantity>,
    /// Distances above one and a half of what was meant.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub misses: Option<Quantity>,
    /// Corn: what such a spread cost in older trials, bushels an acre: low end.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 2.25)]
    pub loss_low_bu_ac: Option<f64>,
    /// High end.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 3.6)]
    pub loss_high_bu_ac: Option<f64>,
}

/// What late plants of corn cost, between published cases.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "late_by_days": 7, "loss_low": {"value": 0, "unit": "%"}, "loss_high": {"value": 5, "unit": "%"},
    "cases": [{"what": "half of the plants a week late", "low": 5, "high": 5,
        "source": "Ontario Agronomy Guide, as reported in the farm press, n.d. Uneven emergence"}]
})))]
pub struct StandUneven {
    /// How late the plants were.
    #[schema(example = 7)]
    pub late_by_days: f64,
    /// The largest loss of the cases that were no worse than this field.
    pub loss_low: Quantity,
    /// The smallest loss of the cases that were no better; absent where the field is worse than all.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub loss_high: Option<Quantity>,
    /// The cases that the two ends come from.
    #[schema(max_items = 2)]
    pub cases: Vec<UnevenCaseOut>,
}

/// A published case of uneven emergence.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "what": "half of the plants a week late", "low": 5, "high": 5,
    "source": "Ontario Agronomy Guide, as reported in the farm press, n.d. Uneven emergence"
})))]
pub struct UnevenCaseOut {
    /// What was late, and by how much.
    #[schema(example = "half of the plants a week late")]
    pub what: String,
    /// Percent of the yield lost: low end.
    #[schema(example = 5)]
    pub low: f64,
    /// High end.
    #[schema(example = 5)]
    pub high: f64,
    /// The citation.
    #[schema(
        example = "Ontario Agronomy Guide, as reported in the farm press, n.d. Uneven emergence"
    )]
    pub source: String,
}

/// A stand count: what was counted, and what it says.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub struct StandCount {
    /// Id of the stand count.
    pub id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The planting.
    pub planting_id: Uuid,
    /// The day of the count.
    #[schema(example = "2027-05-28")]
    pub counted_on: NaiveDate,
    /// What was counted, as entered.
    pub count: StandMethodIn,
    /// How late the late plants were, as entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 7)]
    pub late_by_days: Option<f64>,
    /// A note.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Crusted on the clay knob.")]
    pub note: Option<String>,
    /// Plants on an area: all plants over all ground.
    pub population: StandFigure,
    /// What the limits rest on.
    pub units: StandUnit,
    /// How many of these units there are.
    #[schema(minimum = 1, example = 3)]
    pub unit_count: u32,
    /// Place by place.
    #[schema(max_items = 200)]
    pub places: Vec<StandPlace>,
    /// How much the single counts differ: standard deviation over mean.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub variation: Option<Quantity>,
    /// Share of the seeds that became plants; absent where nobody said how many seeds.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub emergence: Option<StandFigure>,
    /// Gaps; absent where nobody looked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gaps: Option<StandGaps>,
    /// How the plants stand along the row; absent where nobody measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub spacing: Option<StandSpacingOut>,
    /// Share of the plants that came up late; absent where nobody looked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub late_share: Option<Quantity>,
    /// Corn: what late plants cost; absent where nobody looked, or said how late.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub uneven: Option<StandUneven>,
    /// Counts that would tell the stand to within a tenth, by how much these differ; absent where
    /// more than 200 would be needed, or one count can't tell.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 7)]
    pub counts_for_a_tenth: Option<u32>,
    /// What is to be known beside.
    #[schema(max_items = 10)]
    pub notices: Vec<StandNotice>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
    /// When it was entered.
    pub created_at: DateTime<Utc>,
    /// Account that entered it.
    pub created_by: Uuid,
}

impl StandCount {
    /// A row as it goes out, with computed values in `system`.
    pub fn show(row: &stand_counts::Model, system: System) -> Result<Self, ApiError> {
        let given = store::observation_of(row)?;
        let Stored { found, notices } = store::result_of(row)?;
        let StandFound {
            population,
            emergence,
            gaps,
            spacing,
            late_share,
            uneven,
            counts_for_a_tenth,
            trace,
        } = found;
        Ok(Self {
            id: row.id,
            field_id: row.field_id,
            planting_id: row.planting_id,
            counted_on: row.counted_on,
            count: given.count,
            late_by_days: given.late_by_days,
            note: given.note,
            units: population.units.into(),
            unit_count: population.unit_count,
            places: places(&population, system),
            variation: population.cv.map(|cv| percent(100.0 * cv)),
            population: figure(&population, system),
            emergence: emergence.map(StandFigure::percent),
            gaps: gaps.map(|gaps| StandGaps::of(gaps, system)),
            spacing: spacing.map(|it| StandSpacingOut::of(&it, system)),
            late_share: late_share.map(|share| percent(100.0 * share)),
            uneven: uneven.map(StandUneven::of),
            counts_for_a_tenth,
            notices,
            trace: trace::steps_of(trace),
            created_at: row.created_at,
            created_by: row.created_by,
        })
    }
}

/// A share in percent.
pub(super) fn percent(value: f64) -> Quantity {
    Quantity::new(six_digits(value), "%")
}

/// A stand.
pub(super) fn density(plants: ArealNumberDensity, system: System) -> Quantity {
    Quantity::show(&bounds::SEED_POPULATION, plants, system)
}

fn figure(population: &Population, system: System) -> StandFigure {
    let (low, high) = population.limits.unzip();
    StandFigure {
        value: density(population.stand, system),
        low: low.map(|it| density(it, system)),
        high: high.map(|it| density(it, system)),
    }
}

fn places(population: &Population, system: System) -> Vec<StandPlace> {
    let place = |it: &stand::PlaceStand| StandPlace {
        place: it.place,
        counts: it.counts,
        population: density(it.population, system),
    };
    population.places.iter().map(place).collect()
}

impl StandFigure {
    fn percent(it: PercentRange) -> Self {
        Self { value: percent(it.value), low: it.low.map(percent), high: it.high.map(percent) }
    }
}

impl StandGaps {
    fn of(it: Gaps, system: System) -> Self {
        let length = |length: Length| Quantity::show(&bounds::ROW_GAP, length, system);
        Self {
            count: it.count,
            long: it.long,
            lost: length(it.lost),
            longest: length(it.longest),
            share: percent(100.0 * it.share),
            loss_low: it.loss_low.map(percent),
            loss_high: it.loss_high.map(percent),
            because: trace::reasons(it.because),
        }
    }
}

impl StandSpacingOut {
    fn of(it: &StandSpacing, system: System) -> Self {
        let length = |length: Length| Quantity::show(&bounds::SEED_SPACING, length, system);
        Self {
            spacings: it.spacings,
            mean: length(it.mean),
            sd: it.sd.map(length),
            meant: it.meant.map(length),
            multiples: it.multiples_percent.map(percent),
            misses: it.miss_percent.map(percent),
            loss_low_bu_ac: it.loss.as_ref().map(|loss| six_digits(loss.low)),
            loss_high_bu_ac: it.loss.as_ref().map(|loss| six_digits(loss.high)),
        }
    }
}

impl StandUneven {
    fn of(it: Uneven) -> Self {
        let case = |it: stand::UnevenCase| UnevenCaseOut {
            what: it.what.into_owned(),
            low: it.low,
            high: it.high,
            source: it.source.into_owned(),
        };
        Self {
            late_by_days: it.days,
            loss_low: percent(it.low),
            loss_high: it.high.map(percent),
            cases: it.cases.into_iter().map(case).collect(),
        }
    }
}

/// A page of stand counts.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [example()]})))]
pub struct StandCountPage {
    /// The stand counts of this page, in the order in which they came in.
    #[schema(max_items = 200)]
    pub items: Vec<StandCount>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which page of the stand counts of a field.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct StandCountRequest {
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
    /// Only what was made at this time or later, in that order. Ask five minutes before the time of
    /// the walk before: a change may be seen a little late.
    #[serde(default)]
    #[param(nullable = false, example = "2027-05-28T12:00:00Z")]
    pub updated_since: Option<DateTime<Utc>>,
    /// Whether to count the rows that the filters let through.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub count: Option<bool>,
}

/// A stand count for the document.
fn example() -> serde_json::Value {
    serde_json::json!({
        "id": "01964f1e-6a00-7000-8000-000000000071",
        "field_id": "01964f1e-6a00-7000-8000-000000000004",
        "planting_id": "01964f1e-6a00-7000-8000-000000000061",
        "counted_on": "2027-05-28",
        "count": {
            "kind": "row_length", "length": {"value": 17.424, "unit": "[ft_i]"},
            "counts": [
                {"place": 1, "row": 2, "plants": 31},
                {"place": 2, "row": 7, "plants": 29},
                {"place": 3, "row": 4, "plants": 32}
            ]
        },
        "population": {
            "value": {"value": 30666.8, "unit": "1/[acr_us]"},
            "low": {"value": 26872.1, "unit": "1/[acr_us]"},
            "high": {"value": 34461.5, "unit": "1/[acr_us]"}
        },
        "units": "places", "unit_count": 3,
        "places": [
            {"place": 1, "counts": 1, "population": {"value": 31000.1, "unit": "1/[acr_us]"}},
            {"place": 2, "counts": 1, "population": {"value": 29000.1, "unit": "1/[acr_us]"}},
            {"place": 3, "counts": 1, "population": {"value": 32000.1, "unit": "1/[acr_us]"}}
        ],
        "variation": {"value": 4.98, "unit": "%"},
        "emergence": {
            "value": {"value": 90.2, "unit": "%"}, "low": {"value": 79.0, "unit": "%"},
            "high": {"value": 101.4, "unit": "%"}
        },
        "counts_for_a_tenth": 4,
        "notices": [], "trace": [],
        "created_at": "2027-05-28T22:10:00Z",
        "created_by": "01964f1e-6a00-7000-8000-000000000003"
    })
}
