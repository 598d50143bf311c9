//! `POST /v1/calendar-feeds`

use actix_web::post;
use actix_web::web::Data;
use sea_orm::{ColumnTrait, QueryFilter};

use super::dto::{CalendarFeed, CalendarFeedIn, NewCalendarFeed};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::entities::growers;
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, BadMember, Body};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Make a calendar feed.
///
/// An address under which a calendar program reads what is due, day by day: digs, stands to count,
/// inspections and the like. Calendar programs can't sign in, so whoever has the address reads what you
/// see at that moment, or only what is due at one grower. It is shown this once; revoke it when it got
/// about. It stops working when your account is closed. 409 when you have 20.
#[utoipa::path(
    tag = "attention", operation_id = "create_calendar_feed", security(("bearer" = ["read"])),
    params(IdempotencyKey),
    request_body(content = CalendarFeedIn, description = "What it shows."),
    responses(
        (status = 201, description = "The feed.", body = NewCalendarFeed, headers(
            ("Location" = String, description = "Path of the feed, without its secret."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/calendar-feeds")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    write: Write,
    body: Body<CalendarFeedIn>,
) -> Result<Written<NewCalendarFeed>, ApiError> {
    let (grower_id, note) = body.into_inner().parse()?;
    let owner = (caller.practice_id(), caller.account_id());
    write
        .run(&app, &caller, async |tx| {
            if let Some(id) = grower_id {
                let seen = caller.scope().growers().filter(growers::Column::Id.eq(id));
                if sea_orm::QuerySelect::limit(seen, 1).one(tx).await?.is_none() {
                    let bad = BadMember::new("/grower_id", "There is no such grower.");
                    return Err(bad.given(id).into());
                }
            }
            let (row, secret) = store::insert(tx, &app, owner, (grower_id, note)).await?;
            let touched = Touched::new("calendar_feed", row.id);
            let touched = match row.grower_id {
                Some(grower) => touched.of_grower(grower),
                None => touched,
            };
            let place = format!("/v1/calendar-feeds/{}", row.id);
            let url = app.settings.public_url.of(&format!("/calendar/{secret}.ics"));
            let made = NewCalendarFeed { feed: CalendarFeed::from(row), url };
            Ok(Done::new(touched, Answer::created(place, made).secret()))
        })
        .await
}
