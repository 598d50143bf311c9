//! `GET /v1/fields/{id}/conditions/newest`

use actix_web::get;
use actix_web::web::Data;

use super::dto::ConditionsReport;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};
use crate::v1::coefficients::figures_in_force;

/// Get the newest conditions report of a field.
///
/// Newest by the time at which the field was looked at. 404 when nobody has looked yet.
#[utoipa::path(
    tag = "conditions", operation_id = "get_newest_conditions_report",
    security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field.")),
    responses(
        (status = 200, description = "The newest report.", body = ConditionsReport),
        GetErrors,
    ),
)]
#[get("/fields/{id}/conditions/newest")]
pub(super) async fn newest(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<ConditionsReport>, ApiError> {
    let field = crate::v1::fields::store::find(&app.db, caller.scope(), id.0).await?;
    let row = store::newest(&app.db, caller.scope(), field.id)
        .await?
        .ok_or_else(|| ApiError::not_found("conditions report"))?;
    let k = figures_in_force(&app.db, caller.scope()).await?;
    Ok(Answer::ok(ConditionsReport::of(&row, &k)?))
}
