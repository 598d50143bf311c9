//! `GET /v1/fields`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Field, FieldFilter, FieldPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::prefix::Prefix;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List fields.
///
/// Oldest first, in pages. A grower's account sees only its own.
#[utoipa::path(
    tag = "fields", operation_id = "list_fields", security(("bearer" = ["read"])),
    params(FieldFilter),
    responses(
        (status = 200, description = "A page of fields.", body = FieldPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/fields")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<FieldFilter>,
    request: HttpRequest,
) -> Result<Answer<FieldPage>, ApiError> {
    let FieldFilter { name, farm_id, units, limit, cursor, updated_since, count } = query.0;
    let asked = Asked { limit, cursor, updated_since, count };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let filter = (farm_id, Prefix::parse("?name", name.as_deref())?);
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let units = caller.units(units);
    let shown = found.rows.into_iter().map(|row| Field::show(row, units));
    let items = shown.collect::<Result<_, _>>()?;
    let next = found.next_cursor;
    Ok(Answer::page(FieldPage { items, next_cursor: next.clone(), total: found.total }, next))
}
