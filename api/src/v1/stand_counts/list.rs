//! `GET /v1/fields/{id}/stand-counts`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::answer::{StandCount, StandCountPage, StandCountRequest};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::fields;

/// List the stand counts of a field.
///
/// In the order in which they came in, in pages.
#[utoipa::path(
    tag = "stand-counts", operation_id = "list_stand_counts", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field."), StandCountRequest),
    responses(
        (status = 200, description = "A page of stand counts.", body = StandCountPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/fields/{id}/stand-counts")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<StandCountRequest>,
    request: HttpRequest,
) -> Result<Answer<StandCountPage>, ApiError> {
    let StandCountRequest { units, limit, cursor, updated_since, count } = query.0;
    let asked = Asked { limit, cursor, updated_since, count };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let field = fields::store::find(&app.db, caller.scope(), id.0).await?;
    let found = store::page(&app.db, caller.scope(), field.id, &page).await?;
    let system = caller.units(units).into();
    let shown = found.rows.iter().map(|row| StandCount::show(row, system));
    let items = shown.collect::<Result<_, _>>()?;
    let (next, total) = (found.next_cursor, found.total);
    Ok(Answer::page(StandCountPage { items, next_cursor: next.clone(), total }, next))
}
