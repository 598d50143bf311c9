//! `GET /v1/fields`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{Field, FieldFilter, FieldPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::page::PageRequest;
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
) -> Result<Answer<FieldPage>, ApiError> {
    let FieldFilter { farm_id, units, limit, cursor } = query.0;
    let page = PageRequest::parse(limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), farm_id, page).await?;
    let units = caller.units(units);
    let items = rows.into_iter().map(|row| Field::show(row, units)).collect::<Result<_, _>>()?;
    Ok(Answer::page(FieldPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
