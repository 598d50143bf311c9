//! `PATCH /v1/accounts/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::Account;
use super::patch::AccountPatch;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::UpdateAccountErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change an account.
///
/// Sets name, role, grower and units, and shuts out or lets in again. What is absent stays. Send the
/// `ETag` you read as `If-Match`. The last lead can't be lowered or shut out.
#[utoipa::path(
    tag = "accounts", operation_id = "update_account", security(("bearer" = ["manage"])),
    params(
        ("id" = Uuid, Path, description = "Id of the account."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = AccountPatch, description = "What changes."),
    responses(
        (status = 200, description = "The account as it is now.", body = Account, headers(
            ("ETag" = String, description = "New version of the account."),
        )),
        UpdateAccountErrors,
    ),
)]
#[patch("/accounts/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<AccountPatch>,
) -> Result<Written<Account>, ApiError> {
    let patch = body.into_inner().parse()?;
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, caller.practice_id(), id.0).await?;
            let expected = if_match.needed()?;
            let row = store::update(tx, before, &expected, app.clock.now(), patch).await?;
            let (touched, etag) = (Touched::new("account", row.id), ETag::of(row.version));
            Ok(Done::new(touched, Answer::ok(store::with_practice(tx, row).await?).tagged(&etag)))
        })
        .await
}
