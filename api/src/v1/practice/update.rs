//! `PATCH /v1/practice`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Practice, PracticePatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change the settings of one's own practice.
///
/// Whether advisors see all growers or only those they look after (`advisor_id` of the grower). It
/// holds from the next request on. What is absent stays.
#[utoipa::path(
    tag = "practice", operation_id = "update_practice", security(("bearer" = ["manage"])),
    params(
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = PracticePatch, description = "What changes."),
    responses(
        (status = 200, description = "The practice as it is now.", body = Practice, headers(
            ("ETag" = String, description = "New version of the practice."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/practice")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    if_match: IfMatch,
    body: Body<PracticePatch>,
) -> Result<Written<Practice>, ApiError> {
    let PracticePatch { advisors_see } = body.into_inner();
    let id = caller.practice_id();
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, id).await?;
            let expected = if_match.needed()?;
            let row = store::change(tx, before, &expected, app.clock.now(), advisors_see).await?;
            let etag = ETag::of(row.version);
            let answer = Answer::ok(Practice::from(row)).tagged(&etag);
            Ok(Done::new(Touched::new("practice", id), answer))
        })
        .await
}
