//! `PATCH /v1/accounts/me`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Account, AccountChange};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, text};
use crate::writes::{Actor, Done, IdempotencyKey, Touched, Write, Written};

/// Change one's own account.
///
/// Sets the display name and the units of computed answers. No `If-Match` is needed: only the
/// owner changes it.
#[utoipa::path(
    tag = "accounts", operation_id = "update_own_account", security(("bearer" = ["read"])),
    params(IdempotencyKey),
    request_body(content = AccountChange, description = "What changes."),
    responses((status = 200, description = "The account as it is now.", body = Account), ComputeErrors),
)]
#[patch("/accounts/me")]
pub(super) async fn update_me(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    write: Write,
    body: Body<AccountChange>,
) -> Result<Written<Account>, ApiError> {
    let AccountChange { display_name, units } = body.into_inner();
    let display_name = display_name.map(|given| text::name("/display_name", &given)).transpose()?;
    let changes = display_name.is_some() || units.is_some();
    let by = Actor::from(&caller);
    write
        .run(&app, by, async |tx| {
            let row = store::change(tx, caller.into_account(), display_name, units).await?;
            let touched = Touched::new("account", row.id);
            let answer = Answer::ok(store::with_practice(tx, row).await?);
            Ok(if changes { Done::new(touched, answer) } else { Done::unchanged(answer) })
        })
        .await
}
