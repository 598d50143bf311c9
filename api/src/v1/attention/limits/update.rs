//! `PATCH /v1/attention-limits`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{AttentionLimits, AttentionLimitsPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change when something needs somebody.
///
/// The figures are those of the practice from then on. What is absent stays.
#[utoipa::path(
    tag = "attention", operation_id = "update_attention_limits", security(("bearer" = ["manage"])),
    params(
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = AttentionLimitsPatch, description = "What changes."),
    responses(
        (status = 200, description = "The limits as they are now.", body = AttentionLimits, headers(
            ("ETag" = String, description = "New version of the limits."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/attention-limits")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    if_match: IfMatch,
    body: Body<AttentionLimitsPatch>,
) -> Result<Written<AttentionLimits>, ApiError> {
    let change = body.into_inner();
    let practice = caller.practice_id();
    write
        .run(&app, &caller, async |tx| {
            let (before, version) = store::find(tx, practice).await?;
            let expected = if_match.needed()?;
            let limits = change.over(before)?;
            if limits == before {
                expected.check(version)?;
                let answer = Answer::ok(AttentionLimits::of(&before, version));
                return Ok(Done::unchanged(answer.tagged(&ETag::of(version))));
            }
            let stored = (limits, app.clock.now());
            let (limits, version) =
                store::change(tx, (practice, version), &expected, stored).await?;
            let answer = AttentionLimits::of(&limits, version);
            let answer = Answer::ok(answer).tagged(&ETag::of(version));
            Ok(Done::new(Touched::new("attention_limits", practice), answer))
        })
        .await
}
