//! `PATCH /v1/practice`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Practice, PracticePatch};
use super::{SeasonCalendar, store};
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, IfMatch};
use crate::learned;
use crate::season;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change the settings of one's own practice.
///
/// Whether advisors see all growers or only those they look after (`advisor_id` of the grower); in
/// which time zone its days begin, and on which day its seasons start. It holds from the next request
/// on, also for what was stored before: it is counted to the seasons anew. What is absent stays.
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
    let change = body.into_inner().parse()?;
    let id = caller.practice_id();
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, id).await?;
            let expected = if_match.needed()?;
            let now = app.clock.now();
            let seasons = SeasonCalendar::of(&before)?;
            let row = store::change(tx, before, &expected, now, change.clone()).await?;
            let calendar = SeasonCalendar::of(&row)?;
            if calendar != seasons {
                learned::count_to_seasons(tx, id, &calendar).await?;
                season::recount(tx, id, &calendar).await?;
            }
            let etag = ETag::of(row.version);
            let touched = Touched::new("practice", id).in_version(row.version);
            Ok(Done::new(touched, Answer::ok(Practice::from(row)).tagged(&etag)))
        })
        .await
}
