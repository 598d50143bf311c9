//! `GET /v1/fields/{id}/timeline`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::cursor::Asked;
use super::dto::{Timeline, TimelineRequest};
use super::{entries, moments};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::fields;
use crate::v1::recommendations::show::Show;

/// Get the timeline of a field.
///
/// What happened in a season, in order of time and in pages: calibrations, inspections and repairs of
/// the planters that are used here, plantings, stand counts, harvests, conditions, recommendations as they were
/// made, issued, acknowledged and superseded, dig checks, adjustments as they were proposed and decided, and
/// trials as they were started and closed. A season is that of the practice. A grower's account
/// does not see drafts.
#[utoipa::path(
    tag = "fields", operation_id = "get_field_timeline", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field."), TimelineRequest),
    responses(
        (status = 200, description = "A page of the timeline.", body = Timeline, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/fields/{id}/timeline")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<TimelineRequest>,
    request: HttpRequest,
) -> Result<Answer<Timeline>, ApiError> {
    let calendar = caller.calendar();
    let asked = Asked::parse(Walk::of(&request, caller.practice_id()), &query.0, &calendar)?;
    let (scope, show) = (caller.scope(), Show(caller.units(query.0.units).into()));
    let field = fields::store::find(&app.db, scope, id.0).await?;
    let all = moments::of_field(&app.db, scope, field.id).await?;
    let (season, in_season) = moments::of_season(all, asked.season, app.clock.now(), &calendar);
    let (page, next_cursor) = asked.cut(in_season);
    let items = entries::of(&app.db, scope, page, show).await?;
    Ok(Answer::page(Timeline { season, items, next_cursor: next_cursor.clone() }, next_cursor))
}
