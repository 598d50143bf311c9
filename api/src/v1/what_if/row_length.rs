//! `POST /v1/what-if/row-length`

use actix_web::post;
use domain::provenance::{Input, sources};
use domain::quantity::{ArealNumberDensity, Length, Measured, System, bounds};
use domain::settings::{row_length_of_acre, seeds_in};
use domain::stand::stand_in_row;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::optional;
use super::row_spacing::nothing;
use super::step::{Known, answer};
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// The row width of a planter.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "row_width": {"value": 30, "unit": "[in_i]"},
    "population": {"value": 32000, "unit": "1/[acr_us]"}
})))]
pub(super) struct RowLengthIn {
    /// Distance between rows. Bound: `row_width`.
    pub row_width: Quantity,
    /// Seeds or plants per area; with it the counts are answered. Bound: `seed_population`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub population: Option<Quantity>,
}

/// How far to measure or to drive.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "thousandth_acre": {"value": 17.4241, "unit": "[ft_i]"},
    "course_128th_acre": {"value": 136.126, "unit": "[ft_i]"},
    "population_per_plant": {"value": 1000, "unit": "1/[acr_us]"},
    "in_thousandth_acre": 32,
    "in_ten_feet": 18.3654,
    "in_thousand_feet": 1836.54,
    "trace": [
        {
            "step": "row that is a thousandth of an acre",
            "formula": "0.001 acre / W",
            "inputs": [{"symbol": "W", "value": 0.762, "unit": "m"}],
            "value": 5.31086,
            "unit": "m",
            "source": "definition of the unit",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "course of a 128th of an acre",
            "formula": "acre / (128 W)",
            "inputs": [{"symbol": "W", "value": 0.762, "unit": "m"}],
            "value": 41.4911,
            "unit": "m",
            "source": "New Jersey AES Fact Sheet 1085, as cited by Rutgers 2013; definition of the acre",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct RowLength {
    /// Length of one row that is a thousandth of an acre: each plant in it stands for a thousand.
    pub thousandth_acre: Quantity,
    /// Length that one row or one nozzle travels on a 128th of an acre: each fluid ounce caught on
    /// it is a gallon an acre.
    pub course_128th_acre: Quantity,
    /// Population for each plant in a thousandth of an acre.
    pub population_per_plant: Quantity,
    /// Seeds or plants in a thousandth of an acre; with a population.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 32)]
    pub in_thousandth_acre: Option<f64>,
    /// Seeds or plants in 10 ft of row; with a population.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 18.4)]
    pub in_ten_feet: Option<f64>,
    /// Seeds or plants in 1,000 ft of row; with a population.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 1837)]
    pub in_thousand_feet: Option<f64>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Lengths of row to count and courses to drive.
///
/// A thousandth of an acre in one row, where each plant counts for a thousand, and the course of a
/// 128th of an acre, on which each fluid ounce from one outlet is a gallon an acre.
///
/// Worked example (University of Tennessee 2011, stand counts, and Rutgers 2013; also printed by the
/// Pennsylvania No-Till Alliance): in 30 in rows a thousandth of an acre is 17 ft 5 in. The course
/// of a 128th of an acre is 136 ft (definition of the acre).
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_row_length", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = RowLengthIn, description = "Row width, and a population."),
    responses((status = 200, description = "The lengths.", body = RowLength), ComputeErrors),
)]
#[post("/what-if/row-length")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<RowLengthIn>,
) -> Result<Answer<RowLength>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl RowLengthIn {
    fn work_out(self, system: System) -> Result<RowLength, ApiError> {
        let (width, population) = self.parse()?;
        let length = |share| row_length_of_acre(share, width).map_err(|e| nothing("/row_width", e));
        let (thousandth, course) = (length(0.001)?, length(1.0 / 128.0)?);
        let each = stand_in_row(1.0, thousandth, width).map_err(ApiError::internal)?;
        let count = |row: Length| population.map(|p| six_digits(seeds_in(p, width, row)));
        let feet = |feet: f64| Length::from_si(feet * 0.3048);
        let shown = |row| Quantity::show(&bounds::ROW_LENGTH, row, system);
        let inputs = || vec![Input::new("W", width.si(), "m")];
        Ok(RowLength {
            thousandth_acre: shown(thousandth),
            course_128th_acre: shown(course),
            population_per_plant: Quantity::show(&bounds::SEED_POPULATION, each.population, system),
            in_thousandth_acre: count(thousandth),
            in_ten_feet: count(feet(10.0)),
            in_thousand_feet: count(feet(1000.0)),
            trace: vec![
                THOUSANDTH.gives(inputs(), thousandth.si(), "m"),
                COURSE.gives(inputs(), course.si(), "m"),
            ],
        })
    }

    fn parse(&self) -> Result<(Length, Option<ArealNumberDensity>), ApiError> {
        let mut refused = Refused::default();
        let width = refused.take(self.row_width.parse("/row_width", &bounds::ROW_WIDTH));
        let given = self.population.as_ref();
        let population = optional(&mut refused, given, "/population", &bounds::SEED_POPULATION);
        let Some(width) = width else { return Err(refused.into()) };
        refused.finish()?;
        Ok((width, population))
    }
}

const THOUSANDTH: Known =
    Known::derived("row that is a thousandth of an acre", "0.001 acre / W", sources::DEFINITION);
const COURSE: Known =
    Known::derived("course of a 128th of an acre", "acre / (128 W)", sources::COURSE_128TH);
