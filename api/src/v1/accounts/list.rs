//! `GET /v1/accounts`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Account, AccountFilter, AccountPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List the accounts of the practice.
///
/// Those of people, oldest first, in pages. Machine clients have a list of their own.
#[utoipa::path(
    tag = "accounts", operation_id = "list_accounts", security(("bearer" = ["manage"])),
    params(AccountFilter),
    responses(
        (status = 200, description = "A page of accounts.", body = AccountPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/accounts")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    query: Query<AccountFilter>,
    request: HttpRequest,
) -> Result<Answer<AccountPage>, ApiError> {
    let AccountFilter { role, disabled, limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let filter = (role, disabled);
    let (rows, next_cursor) = store::page(&app.db, caller.practice_id(), filter, &page).await?;
    let practice = store::practice_name(&app.db, caller.practice_id()).await?;
    let items = rows.into_iter().map(|row| Account::of(row, practice.clone())).collect();
    Ok(Answer::page(AccountPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
