//! `GET /v1/planters/{id}/wear-limits`

use actix_web::get;
use actix_web::web::Data;

use super::dto::WearLimits;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id, Query};
use crate::v1::inspections::shed::Shed;
use crate::v1::planters;
use crate::v1::units::UnitsQuery;

/// Get the wear limits of a planter.
///
/// What the owner entered from the manual, and the limit that counts for each item that is measured:
/// the manual's, else that of the make-up, else a published one with its source. Where sources disagree,
/// all are shown.
#[utoipa::path(
    tag = "inspections", operation_id = "get_wear_limits", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), UnitsQuery),
    responses(
        (status = 200, description = "The limits.", body = WearLimits, headers(
            ("ETag" = String, description = "Version of what was entered; `\"0\"` before the first."),
        )),
        GetErrors,
    ),
)]
#[get("/planters/{id}/wear-limits")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<WearLimits>, ApiError> {
    let units = caller.units(query.0.units);
    let planter = planters::store::find(&app.db, caller.scope(), id.0).await?;
    let entered = store::in_force(&app.db, caller.scope(), planter.id).await?;
    let shed = Shed::load(&app.db, &planter).await?;
    // What counts follows from the make-up and the practice's figures too.
    let (etag, made) = (entered.version, planter.version);
    let answer = Answer::ok(WearLimits::of(planter.id, entered, &shed, units.into()));
    let etag = ETag::of(etag).in_form(units.code()).and(&(made, &shed.k.disc_wear_limit))?;
    Ok(answer.tagged(&etag))
}
