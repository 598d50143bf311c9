//! `POST /v1/what-if/degree-days`

use actix_web::post;
use domain::quantity::{System, bounds};
use domain::stand::{Day, degree_day_sum};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::entries;
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// Air temperatures of days.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "days": [{"high": {"value": 80, "unit": "[degF]"}, "low": {"value": 55, "unit": "[degF]"}}]
})))]
pub(super) struct DegreeDaysIn {
    /// The days, in order.
    #[schema(min_items = 1, max_items = 366)]
    pub days: Vec<DayIn>,
}

/// Highest and lowest air temperature of a day.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "high": {"value": 80, "unit": "[degF]"}, "low": {"value": 55, "unit": "[degF]"}
})))]
pub(super) struct DayIn {
    /// Highest temperature. Bound: `air_temperature`.
    pub high: Quantity,
    /// Lowest temperature. Bound: `air_temperature`.
    pub low: Quantity,
}

/// Degree days, day by day and in all.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "sum": {"value": 17.5, "unit": "[degF].d"},
    "days": [{"value": 17.5, "unit": "[degF].d"}],
    "trace": [
        {
            "step": "degree days of a day",
            "formula": "(min(max(T_max, 50), 86) + min(max(T_min, 50), 86)) / 2 - 50",
            "inputs": [
                {"symbol": "T_max", "value": 80, "unit": "[degF]"},
                {"symbol": "T_min", "value": 55, "unit": "[degF]"}
            ],
            "value": 17.5,
            "unit": "[degF].d",
            "source": "method 86/50: Purdue University, Heat unit concepts; Ohio State University Extension AGF-101 (2023); University of Nebraska (2015)",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct DegreeDays {
    /// Sum of all days.
    pub sum: Quantity,
    /// Day by day.
    #[schema(max_items = 366)]
    pub days: Vec<Quantity>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Growing degree days.
///
/// Method 86/50 in degrees Fahrenheit: each temperature is first limited to 50 to 86 °F, then their
/// mean less 50. A day is never negative and never above 36.
///
/// Worked example (Purdue University, 2016): a high of 80 °F and a low of 55 °F give 17.5.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_degree_days", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = DegreeDaysIn, description = "The days."),
    responses((status = 200, description = "The degree days.", body = DegreeDays), ComputeErrors),
)]
#[post("/what-if/degree-days")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<DegreeDaysIn>,
) -> Result<Answer<DegreeDays>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl DegreeDaysIn {
    fn work_out(self, system: System) -> Result<DegreeDays, ApiError> {
        let mut refused = Refused::default();
        refused.take(entries("/days", self.days.len(), (1, 366), "a season ends within a year"));
        let days: Vec<Day> = self
            .days
            .iter()
            .enumerate()
            .filter_map(|(index, day)| day.parse(index, &mut refused))
            .collect();
        refused.finish()?;
        Ok(DegreeDays {
            sum: shown(degree_day_sum(&days), system),
            days: days.iter().map(|day| shown(day.degree_days(), system)).collect(),
            trace: days.iter().map(|day| TraceStep::from(day.step())).collect(),
        })
    }
}

impl DayIn {
    fn parse(&self, index: usize, refused: &mut Refused) -> Option<Day> {
        let at = |name: &str| format!("/days/{index}/{name}");
        let high = refused.take(self.high.parse(&at("high"), &bounds::AIR_TEMPERATURE));
        let low = refused.take(self.low.parse(&at("low"), &bounds::AIR_TEMPERATURE));
        let day = Day::new(high?, low?).map_err(|error| {
            BadMember::new(at("low"), format!("{error}."))
                .given(format!("{} {}", self.low.value, self.low.unit))
        });
        refused.take(day)
    }
}

/// Degree days in °F, or in K.
fn shown(degree_days: f64, system: System) -> Quantity {
    match system {
        System::Us => Quantity::new(six_digits(degree_days), "[degF].d"),
        System::Si => Quantity::new(six_digits(degree_days / 1.8), "K.d"),
    }
}
