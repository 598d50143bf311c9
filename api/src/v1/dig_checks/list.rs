//! `GET /v1/recommendations/{id}/dig-checks`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};
use uuid::Uuid;

use super::dto::{DigCheck, DigCheckPage, DigCheckRequest};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::recommendations;

/// List the dig checks of a recommendation.
///
/// In the order in which they came in, in pages.
#[utoipa::path(
    tag = "dig-checks", operation_id = "list_dig_checks", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), DigCheckRequest),
    responses(
        (status = 200, description = "A page of dig checks.", body = DigCheckPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/recommendations/{id}/dig-checks")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<DigCheckRequest>,
    request: HttpRequest,
) -> Result<Answer<DigCheckPage>, ApiError> {
    let DigCheckRequest { units, limit, cursor, updated_since, count } = query.0;
    let asked = Asked { limit, cursor, updated_since, count };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let (scope, units) = (caller.scope(), caller.units(units));
    let sheet = recommendations::store::find(&app.db, scope, id.0).await?;
    let found = store::page(&app.db, scope, sheet.id, &page).await?;
    let ids: Vec<Uuid> = found.rows.iter().map(|row| row.id).collect();
    let adjustments = store::adjustments_of(&app.db, scope, &ids).await?;
    let items = found
        .rows
        .iter()
        .map(|row| {
            let adjustment_id = adjustments.get(&row.id).copied();
            DigCheck::of(row, adjustment_id, units.into())
        })
        .collect::<Result<_, _>>()?;
    let (next, total) = (found.next_cursor, found.total);
    Ok(Answer::page(DigCheckPage { items, next_cursor: next.clone(), total }, next))
}
