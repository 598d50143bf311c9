//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::days::Entered;
use crate::entities::air_temperatures;
use crate::http::ApiError;
use crate::http::patch::present;
use crate::http::quantity::Quantity;

/// Most days of one request.
pub const MOST_DAYS: usize = 400;
/// Most missing days that are named.
pub const MOST_MISSING: usize = 400;

/// Whether temperatures were measured, or are what is expected of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum TemperatureKind {
    /// They were measured.
    Measured,
    /// A forecast, or what is normal for the day.
    Expected,
}

impl From<TemperatureKind> for air_temperatures::DayKind {
    fn from(kind: TemperatureKind) -> Self {
        match kind {
            TemperatureKind::Measured => Self::Measured,
            TemperatureKind::Expected => Self::Expected,
        }
    }
}

impl From<air_temperatures::DayKind> for TemperatureKind {
    fn from(kind: air_temperatures::DayKind) -> Self {
        match kind {
            air_temperatures::DayKind::Measured => Self::Measured,
            air_temperatures::DayKind::Expected => Self::Expected,
        }
    }
}

/// Air temperatures of one day or many.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "station": "Mill farm",
    "days": [
        {"date": "2027-04-30", "high": {"value": 72, "unit": "[degF]"}, "low": {"value": 46, "unit": "[degF]"}},
        {"date": "2027-05-01", "high": {"value": 63, "unit": "[degF]"}, "low": {"value": 42, "unit": "[degF]"}}
    ]
})))]
pub struct TemperaturesIn {
    /// Where they were measured; `farm` when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "Mill farm",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub station: Option<String>,
    /// Whether they were measured; they were when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub kind: Option<TemperatureKind>,
    /// The days, in any order. Of a day that comes twice the later one counts.
    #[schema(min_items = 1, max_items = 400)]
    pub days: Vec<TemperatureDayIn>,
}

/// Highest and lowest air temperature of a day.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "date": "2027-04-30",
    "high": {"value": 72, "unit": "[degF]"},
    "low": {"value": 46, "unit": "[degF]"}
})))]
pub struct TemperatureDayIn {
    /// The day. What was measured lies between 2000 and today; what is expected at most 180 days
    /// ahead.
    #[schema(example = "2027-04-30")]
    pub date: NaiveDate,
    /// Highest temperature. Bound: `air_temperature`.
    pub high: Quantity,
    /// Lowest temperature; not above the highest. Bound: `air_temperature`.
    pub low: Quantity,
}

/// What became of a day that was sent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DayOutcome {
    /// It is new.
    Taken,
    /// It takes the place of what was there.
    Replaced,
    /// It was there already, just so.
    Unchanged,
    /// It was not taken; `detail` says why.
    Refused,
}

/// A day that was sent, and what became of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
#[schema(examples(json!({
    "line": 3, "date": "2027-05-01", "outcome": "replaced",
    "detail": "it was 65 and 42 [degF], measured at Mill farm"
})))]
pub struct SentDay {
    /// Line of the file, or place in the list, from 1.
    #[schema(minimum = 1, example = 3)]
    pub line: u32,
    /// The day, where it could be read.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-01")]
    pub date: Option<NaiveDate>,
    /// What became of it.
    pub outcome: DayOutcome,
    /// The column that is wrong, as the header names it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "tmin_f")]
    pub column: Option<String>,
    /// What was replaced, or why it was refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "it was 65 and 42 [degF], measured at Mill farm")]
    pub detail: Option<String>,
}

/// What became of the temperatures that were sent.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "dry_run": false, "taken": 1, "replaced": 1, "unchanged": 0, "refused": 0,
    "days": [
        {"line": 1, "date": "2027-04-30", "outcome": "taken"},
        {"line": 2, "date": "2027-05-01", "outcome": "replaced",
            "detail": "it was 65 and 42 [degF], measured at Mill farm"}
    ],
    "ignored_columns": [], "missing": [], "missing_count": 0
})))]
pub struct TemperaturesTaken {
    /// Whether nothing was stored: it was only asked what would become of them.
    pub dry_run: bool,
    /// Days that are new.
    #[schema(example = 1)]
    pub taken: u32,
    /// Days that took the place of others.
    #[schema(example = 1)]
    pub replaced: u32,
    /// Days that were there already, just so.
    #[schema(example = 0)]
    pub unchanged: u32,
    /// Days that were not taken.
    #[schema(example = 0)]
    pub refused: u32,
    /// Day by day, in the order in which they were sent.
    #[schema(max_items = 4000)]
    pub days: Vec<SentDay>,
    /// Columns of the file that say nothing here.
    #[schema(max_items = 200)]
    pub ignored_columns: Vec<String>,
    /// Days between the first and the last that was sent of which the farm has no temperatures, the
    /// first 400 of them. Nothing is ever filled in for them unless it is asked for.
    #[schema(max_items = 400)]
    pub missing: Vec<NaiveDate>,
    /// How many such days there are.
    #[schema(example = 0)]
    pub missing_count: u32,
}

/// Air temperatures of a day at a farm.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "date": "2027-04-30", "kind": "measured", "station": "Mill farm",
    "high": {"value": 72, "unit": "[degF]"}, "low": {"value": 46, "unit": "[degF]"},
    "updated_at": "2027-05-01T06:00:00Z",
    "created_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct TemperatureDay {
    /// The day.
    #[schema(example = "2027-04-30")]
    pub date: NaiveDate,
    /// Whether they were measured.
    pub kind: TemperatureKind,
    /// Where they were measured.
    #[schema(example = "Mill farm")]
    pub station: String,
    /// Highest temperature, as entered.
    pub high: Quantity,
    /// Lowest temperature, as entered.
    pub low: Quantity,
    /// When they were entered or replaced.
    pub updated_at: DateTime<Utc>,
    /// Account that entered them.
    pub created_by: Uuid,
}

impl TemperatureDay {
    /// A row as it goes out.
    pub fn show(row: air_temperatures::Model) -> Result<Self, ApiError> {
        let air_temperatures::Model {
            practice_id: _,
            id: _,
            farm_id: _,
            day,
            kind,
            station,
            high_k: _,
            low_k: _,
            entered,
            created_at: _,
            created_by,
            updated_at,
        } = row;
        let Entered { high, low } = serde_json::from_value(entered).map_err(ApiError::internal)?;
        Ok(Self { date: day, kind: kind.into(), station, high, low, updated_at, created_by })
    }
}

/// A page of days.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct TemperaturePage {
    /// The days of this page, in order.
    #[schema(max_items = 200)]
    pub items: Vec<TemperatureDay>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "MjAyNy0wNS0wMeF2mKkEnQ4k")]
    pub next_cursor: Option<String>,
}

/// Which days.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct TemperatureFilter {
    /// Only this day and later ones.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-01")]
    pub from: Option<NaiveDate>,
    /// Only this day and earlier ones.
    #[serde(default)]
    #[param(nullable = false, example = "2027-06-30")]
    pub to: Option<NaiveDate>,
    /// Only those that were measured, or that are expected.
    #[serde(default)]
    #[param(nullable = false, inline, example = "measured")]
    pub kind: Option<TemperatureKind>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}

/// How a file is to be read.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ImportRequest {
    /// Where they were measured, for lines that name no station; `farm` when absent.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120, example = "Mill farm")]
    pub station: Option<String>,
    /// Whether they were measured, for lines that do not say; they were when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "measured")]
    pub kind: Option<TemperatureKind>,
    /// Unit of the temperatures where the header does not name it: `[degF]` or `Cel`.
    #[serde(default)]
    #[param(nullable = false, max_length = 20, example = "[degF]")]
    pub unit: Option<String>,
    /// Only say what would become of each line, and store nothing.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub dry_run: Option<bool>,
}
