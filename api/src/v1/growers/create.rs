//! `POST /v1/growers`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Grower, GrowerIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a grower.
///
/// The name must not be taken in the practice.
#[utoipa::path(
    tag = "growers", operation_id = "create_grower", security(("bearer" = ["keep"])),
    params(IdempotencyKey),
    request_body(content = GrowerIn, description = "The grower."),
    responses(
        (status = 201, description = "The grower as stored.", body = Grower, headers(
            ("Location" = String, description = "Path of the grower."),
            ("ETag" = String, description = "Version of the grower."),
        )),
        CreateErrors,
    ),
)]
#[post("/growers")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    body: Body<GrowerIn>,
) -> Result<Written<Grower>, ApiError> {
    let new = body.into_inner().parse()?;
    let (id, now) = (app.ids.next(), app.clock.now());
    write
        .run(&app, &caller, async |tx| {
            let row = store::insert(tx, caller.scope(), id, now, new).await?;
            let touched = Touched::new("grower", id).in_version(row.version).of_grower(id);
            let etag = ETag::of(row.version);
            let answer = Answer::created(format!("/v1/growers/{id}"), Grower::from(row));
            Ok(Done::new(touched, answer.tagged(&etag)))
        })
        .await
}
