//! `PATCH /v1/machine-clients/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{MachineClient, MachineClientPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a machine client.
///
/// What is absent stays. Tokens of a client that is disabled stop at once; fewer scopes hold from
/// the next token on. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "machine-clients", operation_id = "update_machine_client",
    security(("bearer" = ["manage"])),
    params(
        ("id" = Uuid, Path, description = "Id of the client."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = MachineClientPatch, description = "What changes."),
    responses(
        (status = 200, description = "The client as it is now.", body = MachineClient, headers(
            ("ETag" = String, description = "New version of the client."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/machine-clients/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<MachineClientPatch>,
) -> Result<Written<MachineClient>, ApiError> {
    let change = body.into_inner();
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, caller.practice_id(), id.0).await?;
            let expected = if_match.needed()?;
            let change = change.parse(before.account.role)?;
            let found = store::update(tx, before, &expected, app.clock.now(), change).await?;
            let touched = Touched::new("machine_client", id.0);
            let etag = ETag::of(found.client.version);
            Ok(Done::new(touched, Answer::ok(MachineClient::from(found)).tagged(&etag)))
        })
        .await
}
