//! `GET /v1/accounts/me`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Account;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError};

/// Get one's own account.
///
/// The account of the access token, with its role and its practice.
#[utoipa::path(
    tag = "accounts", operation_id = "get_own_account", security(("bearer" = ["read"])),
    responses((status = 200, description = "The account.", body = Account), ListErrors),
)]
#[get("/accounts/me")]
pub(super) async fn get_me(
    app: Data<AppState>,
    caller: Caller<CanRead>,
) -> Result<Answer<Account>, ApiError> {
    Ok(Answer::ok(store::with_practice(&app.db, caller.into_account()).await?))
}
