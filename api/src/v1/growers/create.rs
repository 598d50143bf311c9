//! `POST /v1/growers`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Grower, GrowerIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag};

/// Add a grower.
///
/// The name must not be taken in the practice.
#[utoipa::path(
    tag = "growers", operation_id = "create_grower", security(("bearer" = ["advise"])),
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
    caller: Caller<CanAdvise>,
    body: Body<GrowerIn>,
) -> Result<Answer<Grower>, ApiError> {
    let new = body.into_inner().parse()?;
    let (id, now) = (app.ids.next(), app.clock.now());
    let row = store::insert(&app.db, caller.scope(), id, now, new).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::created(format!("/v1/growers/{id}"), Grower::from(row)).tagged(&etag))
}
