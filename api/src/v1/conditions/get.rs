//! `GET /v1/conditions/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::ConditionsReport;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};
use crate::v1::coefficients::figures_in_force;

/// Get a conditions report.
///
/// With every quantity as it was entered.
#[utoipa::path(
    tag = "conditions", operation_id = "get_conditions_report", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the report.")),
    responses(
        (status = 200, description = "The report.", body = ConditionsReport),
        GetErrors,
    ),
)]
#[get("/conditions/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<ConditionsReport>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let k = figures_in_force(&app.db, caller.scope()).await?;
    Ok(Answer::ok(ConditionsReport::of(&row, &k)?))
}
