//! `POST /v1/what-if/power`

use actix_web::post;
use domain::quantity::{Measured, System, bounds};
use domain::settings::{Power, drawbar_power, pto_power};
use serde::Serialize;
use utoipa::ToSchema;

use super::member::number;
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

tagged_union! {
    /// A pull, or an implement by its width.
    #[schema(examples(json!({
        "kind": "pto",
        "width": {"value": 24, "unit": "[ft_i]"},
        "draft": {"value": 200, "unit": "[lbf_av]"},
        "draft_across": {"value": 1, "unit": "[ft_i]"},
        "soil_factor": 1.5,
        "speed": {"value": 6, "unit": "[mi_i]/h"}
    })))]
    pub(super) enum PowerIn by "kind" {
        /// Power at the drawbar.
        Drawbar = "drawbar" {
            /// Pull of the whole planter. Bound: `frame_weight`.
            pull: Quantity,
            /// Ground speed. Bound: `ground_speed`.
            speed: Quantity,
        },
        /// PTO power that an implement needs.
        Pto = "pto" {
            /// Working width. Bound: `working_width`.
            width: Quantity,
            /// Draft of a strip as wide as `draft_across`. Bound: `row_force`.
            draft: Quantity,
            /// Width of the strip that `draft` stands for: 1 ft, or the row width. Bound:
            /// `working_width`.
            draft_across: Quantity,
            /// Factor for the ground under the tractor: 1.5 on firm soil in the worked example.
            #[schema(minimum = 1, maximum = 3, example = 1.5)]
            soil_factor: f64,
            /// Ground speed. Bound: `ground_speed`.
            speed: Quantity,
        },
    }
}

/// The power that is needed.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "power": {"value": 115.2, "unit": "[HP]"},
    "trace": [
        {
            "step": "PTO power",
            "formula": "W v D s / 375",
            "inputs": [
                {"symbol": "W", "value": 24, "unit": "[ft_i]"},
                {"symbol": "v", "value": 6, "unit": "[mi_i]/h"},
                {"symbol": "D", "value": 200, "unit": "[lbf_av]/[ft_i]"},
                {"symbol": "s", "value": 1.5, "unit": "1"}
            ],
            "value": 115.2,
            "unit": "[HP]",
            "source": "Iowa State University Extension, May 2007. Matching tractor power and implement size. File A3-26",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct PowerNeeded {
    /// Power, in horsepower or kilowatts.
    pub power: Quantity,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Drawbar or PTO power.
///
/// Drawbar power is pull times speed (`lbf x mph / 375` in horsepower). PTO power is width times
/// draft for each foot times speed times a factor for the soil.
///
/// Worked example (Iowa State University Extension, May 2007, Matching tractor power and implement
/// size, File A3-26; a tandem disk on firm soil): 24 ft at 200 lb a foot, 6 mph and a factor of 1.5
/// need 115 PTO hp.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_power", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = PowerIn, description = "A pull or an implement."),
    responses((status = 200, description = "The power.", body = PowerNeeded), ComputeErrors),
)]
#[post("/what-if/power")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<PowerIn>,
) -> Result<Answer<PowerNeeded>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl PowerIn {
    fn work_out(self, system: System) -> Result<PowerNeeded, ApiError> {
        let mut refused = Refused::default();
        let (power, step) = match self {
            Self::Drawbar { pull, speed } => {
                let pull = refused.take(pull.parse("/pull", &bounds::FRAME_WEIGHT));
                let speed = refused.take(speed.parse("/speed", &bounds::GROUND_SPEED));
                let (Some(pull), Some(speed)) = (pull, speed) else {
                    return Err(refused.into());
                };
                drawbar_power(pull, speed)
            }
            Self::Pto { width, draft, draft_across, soil_factor, speed } => {
                let width = refused.take(width.parse("/width", &bounds::WORKING_WIDTH));
                let draft = refused.take(draft.parse("/draft", &bounds::ROW_FORCE));
                let across =
                    refused.take(draft_across.parse("/draft_across", &bounds::WORKING_WIDTH));
                let why = "firm ground takes 1.5; the softest not 3";
                let factor = refused.take(number("/soil_factor", soil_factor, (1.0, 3.0), why));
                let speed = refused.take(speed.parse("/speed", &bounds::GROUND_SPEED));
                let (Some(width), Some(draft), Some(across), Some(factor), Some(speed)) =
                    (width, draft, across, factor, speed)
                else {
                    return Err(refused.into());
                };
                pto_power(width, speed, draft.si() / across.si(), factor)
            }
        };
        Ok(PowerNeeded { power: shown(power, system), trace: vec![TraceStep::from(step)] })
    }
}

fn shown(power: Power, system: System) -> Quantity {
    match system {
        System::Us => Quantity::new(six_digits(power.horsepower()), "[HP]"),
        System::Si => Quantity::new(six_digits(power.kilowatts()), "kW"),
    }
}
