//! `GET /v1/record-matches`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{RecordMatch, RecordMatchFilter, RecordMatchPage};
use super::store::{self, Wanted};
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::exchange::intake::System;
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List records that wait for a person.
///
/// New records of a records system that look like objects that are here, new planters without their
/// make-up, what was erased here and is sent again (`erased_at`), and what belongs to these. Those that
/// came first first, in pages.
#[utoipa::path(
    tag = "external-ids", operation_id = "list_record_matches", security(("bearer" = ["keep"])),
    params(RecordMatchFilter),
    responses(
        (status = 200, description = "A page of records that wait.", body = RecordMatchPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/record-matches")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    query: Query<RecordMatchFilter>,
    request: HttpRequest,
) -> Result<Answer<RecordMatchPage>, ApiError> {
    let RecordMatchFilter { system, kind, waits_for, grower_id, limit, cursor, count } = query.0;
    let asked = Asked { limit, cursor, count, updated_since: None };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let system = system.map(|given| System::parse("?system", &given)).transpose()?;
    let wanted = Wanted { system, kind, waits_for, grower_id };
    let found = store::page(&app.db, caller.scope(), wanted, &page).await?;
    let items = found.rows.into_iter().map(RecordMatch::show).collect::<Result<_, _>>()?;
    let next = found.next_cursor;
    Ok(Answer::page(RecordMatchPage { items, next_cursor: next.clone(), total: found.total }, next))
}
