//! `POST /v1/what-if/soil-temperature-under-cover`

use actix_web::post;
use actix_web::web::Data;
use domain::conditions::under_cover;
use domain::provenance::Coefficients;
use domain::quantity::{System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::Crop;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

/// A soil temperature that was read under bare or killed ground.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"crop": "corn", "outside": {"value": 52, "unit": "[degF]"}})))]
pub(super) struct SoilTemperatureUnderCoverIn {
    /// The crop to be planted: soybean is planted later, into a bigger cover.
    pub crop: Crop,
    /// The temperature outside the living cover. Bound: `soil_temperature`.
    pub outside: Quantity,
}

/// The soil temperature under the living cover.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "under_cover": {"value": 50.38, "unit": "[degF]"},
    "low": {"value": 50.38, "unit": "[degF]"},
    "high": {"value": 50.38, "unit": "[degF]"},
    "trace": [
        {
            "step": "soil temperature under the living cover",
            "formula": "T_outside - 1.8 dT",
            "inputs": [
                {"symbol": "T_outside", "value": 52, "unit": "[degF]"},
                {"symbol": "dT_corn", "value": 0.9, "unit": "K"}
            ],
            "value": 50.38,
            "unit": "[degF]",
            "low": 50.38,
            "high": 50.38,
            "source": "Reed, Karsten, Curran, Tooker, Duiker 2019. Planting green effects on corn and soybean production. Agronomy Journal (abstract)",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct SoilTemperatureUnderCover {
    /// The figure to act on.
    pub under_cover: Quantity,
    /// Coldest that is likely.
    pub low: Quantity,
    /// Warmest that is likely.
    pub high: Quantity,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Soil temperature under a living cover.
///
/// A living cover shades the soil: 0.9 °C cooler at corn planting, 0.7 to 2.4 °C at soybean
/// planting, than where the cover was killed early. It never warms the soil.
///
/// Worked example (Reed and others 2019, Agronomy Journal, 0.9 °C read, case ours): 52.0 °F under
/// killed cover are 50.4 °F under green rye at corn planting.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_soil_temperature_under_cover",
    security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SoilTemperatureUnderCoverIn, description = "Crop and temperature."),
    responses(
        (status = 200, description = "The temperature.", body = SoilTemperatureUnderCover),
        ComputeErrors,
    ),
)]
#[post("/what-if/soil-temperature-under-cover")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SoilTemperatureUnderCoverIn>,
) -> Result<Answer<SoilTemperatureUnderCover>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl SoilTemperatureUnderCoverIn {
    fn work_out(
        self,
        system: System,
        k: &Coefficients,
    ) -> Result<SoilTemperatureUnderCover, ApiError> {
        let outside = self.outside.parse("/outside", &bounds::SOIL_TEMPERATURE)?;
        let zone = under_cover(outside, self.crop.into(), k);
        let show = |reading| Quantity::show(&bounds::SOIL_TEMPERATURE, reading, system);
        Ok(SoilTemperatureUnderCover {
            under_cover: show(zone.likely),
            low: show(zone.low),
            high: show(zone.high),
            trace: trace::steps(zone.steps),
        })
    }
}
