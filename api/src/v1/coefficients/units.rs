//! `GET /v1/units`

use std::future::ready;

use actix_web::get;
use domain::quantity::UNITS;

use super::dto::{UnitList, UnitOfMeasure};
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError};

/// List units.
///
/// Every UCUM code that is understood. A quantity may be given in any unit of its kind. UCUM is the
/// Unified Code for Units of Measure, in its case-sensitive form: `[in_i]` is the inch, `Cel` the
/// degree Celsius, `har` the hectare, `[acr_us]` the acre.
#[utoipa::path(
    tag = "coefficients", operation_id = "list_units", security(("bearer" = ["read"])),
    responses(
        (status = 200, description = "The units that are understood.", body = UnitList),
        ListErrors,
    ),
)]
#[get("/units")]
pub(super) async fn units(_caller: Caller<CanRead>) -> Result<Answer<UnitList>, ApiError> {
    let items = UNITS.iter().map(UnitOfMeasure::from).collect();
    ready(Ok(Answer::ok(UnitList { items }))).await
}
