//! `POST /v1/planters`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Planter, PlanterIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a planter.
///
/// What nobody measured is left out of the makeup; a recommendation then says what it assumed.
#[utoipa::path(
    tag = "planters", operation_id = "create_planter", security(("bearer" = ["keep"])),
    params(IdempotencyKey),
    request_body(content = PlanterIn, description = "The planter."),
    responses(
        (status = 201, description = "The planter as stored.", body = Planter, headers(
            ("Location" = String, description = "Path of the planter."),
            ("ETag" = String, description = "Version of the planter."),
        )),
        CreateErrors,
    ),
)]
#[post("/planters")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    body: Body<PlanterIn>,
) -> Result<Written<Planter>, ApiError> {
    let new = body.into_inner().parse()?;
    let (id, now) = (app.ids.next(), app.clock.now());
    write
        .run(&app, &caller, async |tx| {
            let row = store::insert(tx, caller.scope(), id, now, new).await?;
            let touched =
                Touched::new("planter", id).in_version(row.version).of_grower(row.grower_id);
            let etag = ETag::of(row.version);
            let answer = Answer::created(format!("/v1/planters/{id}"), Planter::show(row)?);
            Ok(Done::new(touched, answer.tagged(&etag)))
        })
        .await
}
