//! `GET /v1/fields/{id}/conditions`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{ConditionsPage, ConditionsReport, ConditionsRequest};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::coefficients::figures_in_force;

/// List the conditions reports of a field.
///
/// In the order in which they came in, in pages; the newest alone is at `…/newest`.
#[utoipa::path(
    tag = "conditions", operation_id = "list_conditions_reports", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field."), ConditionsRequest),
    responses(
        (status = 200, description = "A page of reports.", body = ConditionsPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/fields/{id}/conditions")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<ConditionsRequest>,
    request: HttpRequest,
) -> Result<Answer<ConditionsPage>, ApiError> {
    let ConditionsRequest { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let field = crate::v1::fields::store::find(&app.db, caller.scope(), id.0).await?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), field.id, &page).await?;
    let k = figures_in_force(&app.db, caller.scope()).await?;
    let items = rows.iter().map(|row| ConditionsReport::of(row, &k)).collect::<Result<_, _>>()?;
    Ok(Answer::page(ConditionsPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
