//! `POST /v1/what-if/soil-water-used`

use actix_web::post;
use domain::conditions::{DepletionError, depletion};
use domain::quantity::{Measured, Ratio, System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::conditions::Moisture;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// Water of a layer of soil.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "holds": {"value": 1.4, "unit": "[in_i]"}, "missing": {"value": 1, "unit": "[in_i]"}
})))]
pub(super) struct SoilWaterUsedIn {
    /// Water that the layer can hold for plants. Bound: `layer_water`.
    pub holds: Quantity,
    /// Water missing below field capacity in the same layer. Bound: `layer_water`.
    pub missing: Quantity,
}

/// How much of the water is used up.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "used": {"value": 71.4286, "unit": "%"},
    "left": {"value": 28.5714, "unit": "%"},
    "moisture": "slightly_moist",
    "trace": [
        {
            "step": "share of the available water used up",
            "formula": "SMD / AWC",
            "inputs": [
                {"symbol": "SMD", "value": 25.4, "unit": "mm"},
                {"symbol": "AWC", "value": 35.56, "unit": "mm"}
            ],
            "value": 71.4286,
            "unit": "%",
            "source": "USDA-NRCS. Estimating soil moisture by feel and appearance (Wyoming and Montana sheets), n.d.",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct SoilWaterUsed {
    /// Share that is used up.
    pub used: Quantity,
    /// Share that is left.
    pub left: Quantity,
    /// The class of moisture by feel that has so much left.
    pub moisture: Moisture,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Soil water used up.
///
/// What is missing below field capacity over what the layer can hold for plants, and the class of
/// moisture by feel that goes with it: dry up to 25 % left, slightly moist to 50, moist to 75, wet
/// above, at capacity when nothing is missing.
///
/// Worked example (USDA-NRCS Montana, Estimating soil moisture by feel and appearance, n.d., sample
/// record): 12 in of sandy loam hold 1.4 in and lack 1.0 in: 71.4 % are used up, which the source
/// rounds to 70 %.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_soil_water_used", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SoilWaterUsedIn, description = "What the layer holds and lacks."),
    responses((status = 200, description = "The shares.", body = SoilWaterUsed), ComputeErrors),
)]
#[post("/what-if/soil-water-used")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SoilWaterUsedIn>,
) -> Result<Answer<SoilWaterUsed>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl SoilWaterUsedIn {
    fn work_out(self, system: System) -> Result<SoilWaterUsed, ApiError> {
        let mut refused = Refused::default();
        let holds = refused.take(self.holds.parse("/holds", &bounds::LAYER_WATER));
        let missing = refused.take(self.missing.parse("/missing", &bounds::LAYER_WATER));
        let (Some(holds), Some(missing)) = (holds, missing) else { return Err(refused.into()) };
        let (used, step) = depletion(holds, missing).map_err(|error| {
            let pointer = match error {
                DepletionError::HoldsNothing => "/holds",
                DepletionError::MissingMoreThanHeld { .. } => "/missing",
            };
            BadMember::new(pointer, format!("{error}."))
                .why("a layer cannot lack more water than it can hold")
        })?;
        let left = 1.0 - used.si();
        let share = |share| Quantity::show(&bounds::SHARE, Ratio::from_si(share), system);
        Ok(SoilWaterUsed {
            used: share(used.si()),
            left: share(left.max(0.0)),
            moisture: moisture_of(left).into(),
            trace: vec![step.into()],
        })
    }
}

/// The class with so much of the available water left.
fn moisture_of(left: f64) -> domain::conditions::Moisture {
    use domain::conditions::Moisture;
    const SLACK: f64 = 1e-9;
    let classes = [Moisture::Dry, Moisture::SlightlyMoist, Moisture::Moist, Moisture::Wet];
    let within = |class: &Moisture| left < class.available().high - SLACK;
    classes.into_iter().find(within).unwrap_or(Moisture::AtCapacity)
}
