//! `POST /v1/farms`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Farm, FarmIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag, text};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a farm.
///
/// The name must not be taken among the farms of the grower.
#[utoipa::path(
    tag = "farms", operation_id = "create_farm", security(("bearer" = ["keep"])),
    params(IdempotencyKey),
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
    caller: Caller<CanKeep>,
    write: Write,
    body: Body<FarmIn>,
) -> Result<Written<Farm>, ApiError> {
    let FarmIn { grower_id, name } = body.into_inner();
    let new = (grower_id, text::name("/name", &name)?);
    let (id, now) = (app.ids.next(), app.clock.now());
    write
        .run(&app, &caller, async |tx| {
            let row = store::insert(tx, caller.scope(), id, now, new).await?;
            let touched = Touched::new("farm", id).in_version(row.version).of_grower(row.grower_id);
            let etag = ETag::of(row.version);
            let answer = Answer::created(format!("/v1/farms/{id}"), Farm::from(row));
            Ok(Done::new(touched, answer.tagged(&etag)))
        })
        .await
}
