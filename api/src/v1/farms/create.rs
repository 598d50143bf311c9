//! `POST /v1/farms`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Farm, FarmIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag, text};

/// Add a farm.
///
/// The name must not be taken among the farms of the grower.
#[utoipa::path(
    tag = "farms", operation_id = "create_farm", security(("bearer" = ["advise"])),
    request_body(content = FarmIn, description = "The farm."),
    responses(
        (status = 201, description = "The farm as stored.", body = Farm, headers(
            ("Location" = String, description = "Path of the farm."),
            ("ETag" = String, description = "Version of the farm."),
        )),
        CreateErrors,
    ),
)]
#[post("/farms")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    body: Body<FarmIn>,
) -> Result<Answer<Farm>, ApiError> {
    let FarmIn { grower_id, name } = body.into_inner();
    let new = (grower_id, text::name("/name", &name)?);
    let (id, now) = (app.ids.next(), app.clock.now());
    let row = store::insert(&app.db, caller.scope(), id, now, new).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::created(format!("/v1/farms/{id}"), Farm::from(row)).tagged(&etag))
}
