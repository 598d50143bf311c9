//! `DELETE /v1/attention/{entry}/assign`

use actix_web::delete;
use actix_web::web::Data;

use super::key::{self, Key};
use super::marks::{self, Said};
use super::touched::touched;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError};
use crate::writes::{Done, IdempotencyKey, Write, Written};

/// Take an entry back.
///
/// It is nobody's in particular again, and so of whoever looks after the grower.
#[utoipa::path(
    tag = "attention", operation_id = "unassign_attention", security(("bearer" = ["advise"])),
    params(("entry" = String, Path, description = "Key of the entry."), IdempotencyKey),
    responses((status = 204, description = "The entry is nobody's."), GetErrors),
)]
#[delete("/attention/{entry}/assign")]
pub(super) async fn unassign(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    key: Key,
) -> Result<Written<()>, ApiError> {
    let by = (caller.practice_id(), caller.account_id());
    write
        .run_prepared(
            &app,
            &caller,
            async || key::entry(&app, &caller, key).await,
            async |tx, found| {
                let name = found.key();
                marks::say(tx, &app, by, (&name, found.grower_id), Said::Nobody).await?;
                Ok(Done::new(touched(&found), Answer::done()))
            },
        )
        .await
}
