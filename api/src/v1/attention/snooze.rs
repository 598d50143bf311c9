//! `POST /v1/attention/{entry}/snooze`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{AttentionEntry, SnoozeIn};
use super::key::{self, Key};
use super::marks::{self, Said};
use super::touched::touched;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::MarkErrors;
use crate::http::{Answer, ApiError, Body};
use crate::v1::practice::SeasonCalendar;
use crate::writes::{Done, IdempotencyKey, Write, Written};

/// Put an entry off.
///
/// It leaves the list until the day that is given, and comes back then, or as soon as something new
/// happens to it: another dig, another revision. It is put off for all of the practice, with the
/// reason for them to read; not for the grower.
#[utoipa::path(
    tag = "attention", operation_id = "snooze_attention", security(("bearer" = ["advise"])),
    params(("entry" = String, Path, description = "Key of the entry."), IdempotencyKey),
    request_body(content = SnoozeIn, description = "Until when, and why."),
    responses(
        (status = 200, description = "The entry as it is now.", body = AttentionEntry), MarkErrors,
    ),
)]
#[post("/attention/{entry}/snooze")]
pub(super) async fn snooze(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    key: Key,
    body: Body<SnoozeIn>,
) -> Result<Written<AttentionEntry>, ApiError> {
    let by = (caller.practice_id(), caller.account_id());
    let today = SeasonCalendar::load(&app.db, by.0).await?.today(app.clock.now());
    let (until, reason) = body.into_inner().parse(today)?;
    write
        .run_prepared(
            &app,
            &caller,
            async || key::entry(&app, &caller, key).await,
            async |tx, found| {
                let name = found.key();
                let entry = (name.as_str(), found.grower_id);
                let mark = marks::say(tx, &app, by, entry, Said::Later(until, reason)).await?;
                let touched = touched(&found);
                Ok(Done::new(touched, Answer::ok(key::shown(tx, (found, mark), today).await?)))
            },
        )
        .await
}
