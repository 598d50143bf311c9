//! What goes over the wire.

use chrono::NaiveDate;
use domain::stand::{DayFrom, EmergenceState as State};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::mirror::mirror;
use crate::v1::trace::{Assumed, Reason, TraceStep};
use crate::v1::units::Units;

mirror! {
    /// Where the temperatures of a day come from: `measured`, `expected` of a day to come, `filled`
    /// with the mean of the two days beside a gap, or those of a `normal` day. The last two are
    /// assumptions that were asked for.
    HeatFrom = DayFrom { Measured Expected Filled Normal }

    /// How far a crop is by the heat that was measured: `not_yet` has had less than the least that it
    /// takes, `may_have_begun` as much as that, `likely_up` as much as it likely takes, `up` the most
    /// that it takes.
    EmergenceState = State { NotYet MayHaveBegun LikelyUp Up }
}

/// Which days.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct DegreeDayRequest {
    /// The last day; today when absent. At most 200 days after planting.
    #[serde(default)]
    #[param(nullable = false, example = "2027-05-20")]
    pub to: Option<NaiveDate>,
    /// Gaps of at most so many days are filled with the mean of the two days beside them, and marked;
    /// none when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 0, maximum = 5, example = 2)]
    pub fill_gaps: Option<u8>,
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
}

/// Degree days of a planting, from the day after planting on.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "planting_id": "01964f1e-6a00-7000-8000-000000000061",
    "planted_on": "2027-04-29", "to": "2027-05-02",
    "sum": {"value": 17.5, "unit": "[degF].d"},
    "at_most": {"value": 53.5, "unit": "[degF].d"},
    "days": [
        {"date": "2027-04-30", "from": "measured", "high": {"value": 72, "unit": "[degF]"},
            "low": {"value": 46, "unit": "[degF]"}, "degree_days": {"value": 11, "unit": "[degF].d"},
            "sum": {"value": 11, "unit": "[degF].d"}},
        {"date": "2027-05-02", "from": "measured", "high": {"value": 63, "unit": "[degF]"},
            "low": {"value": 42, "unit": "[degF]"}, "degree_days": {"value": 6.5, "unit": "[degF].d"},
            "sum": {"value": 17.5, "unit": "[degF].d"}}
    ],
    "missing": ["2027-05-01"], "assumed": [],
    "source": "method 86/50: Purdue University, Heat unit concepts; Ohio State University Extension AGF-101 (2023); University of Nebraska (2015)"
})))]
pub struct PlantingDegreeDays {
    /// The planting.
    pub planting_id: Uuid,
    /// The day of planting.
    #[schema(example = "2027-04-29")]
    pub planted_on: NaiveDate,
    /// The last day.
    #[schema(example = "2027-05-02")]
    pub to: NaiveDate,
    /// Sum of the days that are there. With days missing it is the least that it can be.
    pub sum: Quantity,
    /// The most that it can be: a missing day brings at most 36 °F.
    pub at_most: Quantity,
    /// Day by day.
    #[schema(max_items = 200)]
    pub days: Vec<HeatDayOut>,
    /// Days that nobody entered, and that were not filled in.
    #[schema(max_items = 200)]
    pub missing: Vec<NaiveDate>,
    /// What was assumed because it was asked for.
    #[schema(max_items = 10)]
    pub assumed: Vec<Assumed>,
    /// The method.
    #[schema(example = "method 86/50: Purdue University, Heat unit concepts")]
    pub source: String,
}

/// A day of the sum.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "date": "2027-04-30", "from": "measured", "high": {"value": 72, "unit": "[degF]"},
    "low": {"value": 46, "unit": "[degF]"}, "degree_days": {"value": 11, "unit": "[degF].d"},
    "sum": {"value": 11, "unit": "[degF].d"}
})))]
pub struct HeatDayOut {
    /// The day.
    #[schema(example = "2027-04-30")]
    pub date: NaiveDate,
    /// Where its temperatures come from.
    pub from: HeatFrom,
    /// Highest temperature.
    pub high: Quantity,
    /// Lowest temperature.
    pub low: Quantity,
    /// Its degree days.
    pub degree_days: Quantity,
    /// Degree days up to and with it.
    pub sum: Quantity,
}

/// How a forecast is to be worked out.
#[derive(Debug, Default, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "fill_gaps": 2,
    "normal_day": {"high": {"value": 70, "unit": "[degF]"}, "low": {"value": 48, "unit": "[degF]"}}
})))]
pub struct EmergenceForecastIn {
    /// Gaps of at most so many days are filled with the mean of the two days beside them; none when
    /// absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0, maximum = 5, example = 2)]
    pub fill_gaps: Option<u8>,
    /// A normal day, for all days after the last that the farm has, measured or expected.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub normal_day: Option<NormalDayIn>,
}

/// Highest and lowest air temperature of a normal day of the season.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "high": {"value": 70, "unit": "[degF]"}, "low": {"value": 48, "unit": "[degF]"}
})))]
pub struct NormalDayIn {
    /// Highest temperature. Bound: `air_temperature`.
    pub high: Quantity,
    /// Lowest temperature; not above the highest. Bound: `air_temperature`.
    pub low: Quantity,
}

/// Degree days from planting to emergence, with their range.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "low": {"value": 90, "unit": "[degF].d"}, "likely": {"value": 115, "unit": "[degF].d"},
    "high": {"value": 125, "unit": "[degF].d"}
})))]
pub struct HeatNeed {
    /// Fewest that are likely.
    pub low: Quantity,
    /// The figure to work with.
    pub likely: Quantity,
    /// Most that are likely.
    pub high: Quantity,
}

/// When a planting comes up, and when to count its stand.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "planting_id": "01964f1e-6a00-7000-8000-000000000061",
    "planted_on": "2027-04-29", "today": "2027-05-06", "state": "not_yet",
    "need": {"low": {"value": 90, "unit": "[degF].d"}, "likely": {"value": 115, "unit": "[degF].d"},
        "high": {"value": 125, "unit": "[degF].d"}},
    "so_far": {"value": 71.5, "unit": "[degF].d"},
    "earliest": "2027-05-09", "likely": "2027-05-11", "latest": "2027-05-12",
    "count_from": "2027-05-25", "count_to": "2027-06-01", "count_by_temperature": true,
    "because": [], "words": ["Up to 6 May 71.5 of about 115 degree days have come (°F)."],
    "missing": [], "assumed": [], "trace": []
})))]
pub struct EmergenceForecast {
    /// The planting.
    pub planting_id: Uuid,
    /// The day of planting.
    #[schema(example = "2027-04-29")]
    pub planted_on: NaiveDate,
    /// The day of the forecast, where the practice is.
    #[schema(example = "2027-05-06")]
    pub today: NaiveDate,
    /// Where the crop stands by what was measured.
    pub state: EmergenceState,
    /// Degree days that it takes.
    pub need: HeatNeed,
    /// Degree days up to today; the least that they can be where days are missing.
    pub so_far: Quantity,
    /// First day on which plants may show; absent where the days that are known do not reach it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-09")]
    pub earliest: Option<NaiveDate>,
    /// The likely day; absent where days before it are missing, or the known ones do not reach it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-11")]
    pub likely: Option<NaiveDate>,
    /// Last day; absent where the days that are known do not reach it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-12")]
    pub latest: Option<NaiveDate>,
    /// First day on which to count the stand: two weeks after emergence.
    #[schema(example = "2027-05-25")]
    pub count_from: NaiveDate,
    /// Last day on which to count it: three weeks after emergence.
    #[schema(example = "2027-06-01")]
    pub count_to: NaiveDate,
    /// Whether these days rest on temperatures; else on how long emergence usually takes.
    pub count_by_temperature: bool,
    /// What moves the need.
    #[schema(max_items = 20)]
    pub because: Vec<Reason>,
    /// It in words.
    #[schema(max_items = 20, example = json!(["Up to 6 May 71.5 of about 115 degree days have come (°F)."]))]
    pub words: Vec<String>,
    /// Days that nobody entered, and that were not filled in.
    #[schema(max_items = 200)]
    pub missing: Vec<NaiveDate>,
    /// What was assumed.
    #[schema(max_items = 20)]
    pub assumed: Vec<Assumed>,
    /// The calculation of the need.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}
