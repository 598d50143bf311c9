//! `GET /v1/growers/{id}/mail`

use actix_web::get;
use actix_web::web::Data;

use super::dto::GrowerMail;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};
use crate::mail::wishes::{self, Whose};
use crate::v1::growers;

/// Get what a grower gets by mail.
///
/// Whether mail goes out when a sheet is ready. None does until the grower agreed.
#[utoipa::path(
    tag = "growers", operation_id = "get_grower_mail", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the grower.")),
    responses((status = 200, description = "What the grower gets.", body = GrowerMail), GetErrors),
)]
#[get("/growers/{id}/mail")]
pub(super) async fn get_grower(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<GrowerMail>, ApiError> {
    let grower = growers::store::find(&app.db, caller.scope(), id.0).await?;
    let row = wishes::find(&app.db, caller.practice_id(), Whose::Grower(grower.id)).await?;
    Ok(Answer::ok(GrowerMail::of(row.as_ref(), grower.email.is_some())))
}
