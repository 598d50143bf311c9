//! `GET /v1/farms/{id}/temperatures`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};
use chrono::NaiveDate;

use super::dto::{TemperatureDay, TemperatureFilter, TemperaturePage};
use super::store::{self, Filter};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::{self, Walk};
use crate::http::page::{DEFAULT_LIMIT, MOST_LIMIT};
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, BadMember, Id, Query, Refused};
use crate::v1::farms;

/// List the air temperatures of a farm.
///
/// Day by day, in order and in pages. Days that nobody entered are not there.
#[utoipa::path(
    tag = "temperatures", operation_id = "list_temperatures", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the farm."), TemperatureFilter),
    responses(
        (status = 200, description = "A page of days.", body = TemperaturePage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/farms/{id}/temperatures")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<TemperatureFilter>,
    request: HttpRequest,
) -> Result<Answer<TemperaturePage>, ApiError> {
    let asked = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let limit = asked.limit.unwrap_or(DEFAULT_LIMIT);
    let after = place(&walk, limit, asked.cursor.as_deref())?;
    let farm = farms::store::find(&app.db, caller.scope(), id.0).await?;
    let filter = Filter {
        from: asked.from,
        to: asked.to,
        kind: asked.kind.map(Into::into),
        after,
        limit: u64::from(limit) + 1,
    };
    let mut rows = store::page(&app.db, caller.scope(), farm.id, filter).await?;
    let more = rows.len() > usize::from(limit);
    rows.truncate(usize::from(limit));
    let last = rows.last().filter(|_| more).map(|row| row.day);
    let next = last.map(|day| walk.seal(day.to_string().as_bytes()));
    let items = rows.into_iter().map(TemperatureDay::show).collect::<Result<_, _>>()?;
    Ok(Answer::page(TemperaturePage { items, next_cursor: next.clone() }, next))
}

/// The day after which the page begins.
fn place(walk: &Walk, limit: u16, cursor: Option<&str>) -> Result<Option<NaiveDate>, ApiError> {
    let mut refused = Refused::default();
    if !(1..=MOST_LIMIT).contains(&limit) {
        let detail = "A page has at least 1 and at most 200 rows.";
        let member = BadMember::new("?limit", detail).given(limit);
        refused.add(member.allowed(format!("1 to {MOST_LIMIT}")));
    }
    let after = cursor.and_then(|cursor| refused.take(day_of(walk, cursor)));
    refused.finish()?;
    Ok(after)
}

fn day_of(walk: &Walk, cursor: &str) -> Result<NaiveDate, BadMember> {
    let place = String::from_utf8(walk.open(cursor)?).ok();
    let day = place.and_then(|text| text.parse().ok());
    day.ok_or_else(|| cursor::refused(cursor))
}
