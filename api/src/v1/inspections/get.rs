//! `GET /v1/inspections/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::shed::Shed;
use super::show::Inspection;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::planters;
use crate::v1::units::UnitsQuery;

/// Get an inspection.
///
/// Judged by the limits that are in force today: what was entered stays, the judgement follows the
/// manual.
#[utoipa::path(
    tag = "inspections", operation_id = "get_inspection", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the inspection."), UnitsQuery),
    responses(
        (status = 200, description = "The inspection.", body = Inspection),
        GetErrors,
    ),
)]
#[get("/inspections/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<Inspection>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let planter = planters::store::find(&app.db, caller.scope(), row.planter_id).await?;
    let shed = Shed::load(&app.db, &planter).await?;
    let newer = store::correction_of(&app.db, caller.scope(), row.id).await?;
    let system = caller.units(query.0.units).into();
    Ok(Answer::ok(Inspection::show(&row, &shed, newer, system)?))
}
