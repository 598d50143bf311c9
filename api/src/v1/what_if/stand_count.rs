//! `POST /v1/what-if/stand-count`

use actix_web::post;
use domain::quantity::{Length, Measured, System, bounds};
use domain::settings::row_length_of_acre;
use domain::stand::{CountError, Stand, stand_in_hoop, stand_in_row};
use serde::Serialize;
use utoipa::ToSchema;

use super::member::whole;
use super::row_spacing::nothing;
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

tagged_union! {
    /// A count, by one of four ways of counting.
    #[schema(examples(json!({
        "kind": "hundred_fifty_plants",
        "distance": {"value": 94, "unit": "[ft_i]"},
        "row_width": {"value": 30, "unit": "[in_i]"}
    })))]
    pub(super) enum StandCountIn by "kind" {
        /// Plants in a thousandth of an acre of one row.
        ThousandthAcre = "thousandth_acre" {
            /// Plants that were counted.
            #[schema(minimum = 0, maximum = 10_000, example = 31)]
            plants: u32,
            /// Distance between rows. Bound: `row_width`.
            row_width: Quantity,
        },
        /// Plants in a length of one row.
        StretchOfRow = "row_length" {
            /// Plants that were counted.
            #[schema(minimum = 0, maximum = 10_000, example = 55)]
            plants: u32,
            /// Length of row. Bound: `row_length`.
            row_length: Quantity,
            /// Distance between rows. Bound: `row_width`.
            row_width: Quantity,
        },
        /// Plants inside a hoop thrown on the ground.
        Hoop = "hoop" {
            /// Plants that were counted.
            #[schema(minimum = 0, maximum = 10_000, example = 18)]
            plants: u32,
            /// Inside diameter. Bound: `hoop_diameter`.
            diameter: Quantity,
        },
        /// The distance walked along a row past 150 plants.
        HundredFiftyPlants = "hundred_fifty_plants" {
            /// Distance walked. Bound: `row_length`.
            distance: Quantity,
            /// Distance between rows. Bound: `row_width`.
            row_width: Quantity,
        },
    }
}

/// The stand of one count.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "stand": {"value": 27804.4, "unit": "1/[acr_us]"},
    "trace": [
        {
            "step": "stand",
            "formula": "n / (L W)",
            "inputs": [
                {"symbol": "n", "value": 150, "unit": "1"},
                {"symbol": "L", "value": 94, "unit": "[ft_i]"},
                {"symbol": "W", "value": 30, "unit": "[in_i]"}
            ],
            "value": 27804.4,
            "unit": "1/[acr_us]",
            "source": "University of Illinois. Corn stand counts, n.d. (method); definition of the acre",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct StandCountResult {
    /// Plants per area.
    pub stand: Quantity,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Stand from a count.
///
/// Plants over the ground on which they were counted: `n / (L W)` in rows, `n / (pi D^2 / 4)` in a
/// hoop. One count says little about a field; count at several places and take the mean.
///
/// Worked example (University of Illinois, corn stand counts, n.d., method; arithmetic): 150 plants
/// in 94 ft of 30 in rows are 27,804 plants an acre. The US survey acre used here adds 0.1.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_stand_count", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = StandCountIn, description = "The count."),
    responses((status = 200, description = "The stand.", body = StandCountResult), ComputeErrors),
)]
#[post("/what-if/stand-count")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<StandCountIn>,
) -> Result<Answer<StandCountResult>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl StandCountIn {
    fn work_out(self, system: System) -> Result<StandCountResult, ApiError> {
        let Stand { population, trace } = self.stand()?;
        Ok(StandCountResult {
            stand: Quantity::show(&bounds::SEED_POPULATION, population, system),
            trace: trace::steps_of(trace),
        })
    }

    fn stand(&self) -> Result<Stand, ApiError> {
        match self {
            Self::ThousandthAcre { plants, row_width } => {
                let (plants, width) = counted(*plants, row_width)?;
                let length = row_length_of_acre(0.001, width);
                let length = length.map_err(|error| nothing("/row_width", error))?;
                stand_in_row(plants, length, width).map_err(|e| no_area("/row_width", e))
            }
            Self::StretchOfRow { plants, row_length, row_width } => {
                let mut refused = Refused::default();
                let length = refused.take(row_length.parse("/row_length", &bounds::ROW_LENGTH));
                let known = refused.take_all(
                    counted(*plants, row_width).map_err(|error| error.members().to_vec()),
                );
                let (Some(length), Some((plants, width))) = (length, known) else {
                    return Err(refused.into());
                };
                stand_in_row(plants, length, width).map_err(|e| no_area("/row_length", e))
            }
            Self::Hoop { plants, diameter } => {
                let mut refused = Refused::default();
                let diameter = refused.take(diameter.parse("/diameter", &bounds::HOOP_DIAMETER));
                let plants = refused.take(seen(*plants));
                let (Some(diameter), Some(plants)) = (diameter, plants) else {
                    return Err(refused.into());
                };
                stand_in_hoop(plants, diameter).map_err(|e| no_area("/diameter", e))
            }
            Self::HundredFiftyPlants { distance, row_width } => {
                let mut refused = Refused::default();
                let length = refused.take(distance.parse("/distance", &bounds::ROW_LENGTH));
                let width = refused.take(row_width.parse("/row_width", &bounds::ROW_WIDTH));
                let (Some(length), Some(width)) = (length, width) else {
                    return Err(refused.into());
                };
                stand_in_row(150.0, length, width).map_err(|e| no_area("/distance", e))
            }
        }
    }
}

fn seen(plants: u32) -> Result<f64, BadMember> {
    let why = "nobody counts more than ten thousand plants at one place";
    whole("/plants", plants, (0, 10_000), why).map(f64::from)
}

fn counted(plants: u32, row_width: &Quantity) -> Result<(f64, Length), ApiError> {
    let mut refused = Refused::default();
    let plants = refused.take(seen(plants));
    let width = refused.take(row_width.parse("/row_width", &bounds::ROW_WIDTH));
    match (plants, width) {
        (Some(plants), Some(width)) if width.si() > 0.0 => Ok((plants, width)),
        _ => Err(refused.into()),
    }
}

fn no_area(pointer: &str, error: CountError) -> ApiError {
    BadMember::new(pointer, format!("{error}.")).into()
}
