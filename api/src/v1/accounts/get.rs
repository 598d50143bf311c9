//! `GET /v1/accounts/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Account;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get an account.
///
/// The account of a person of the practice.
#[utoipa::path(
    tag = "accounts", operation_id = "get_account", security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the account.")),
    responses(
        (status = 200, description = "The account.", body = Account, headers(
            ("ETag" = String, description = "Version of the account."),
        )),
        GetErrors,
    ),
)]
#[get("/accounts/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    id: Id,
) -> Result<Answer<Account>, ApiError> {
    let row = store::find(&app.db, caller.practice_id(), id.0).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(store::with_practice(&app.db, row).await?).tagged(&etag))
}
