//! `POST /v1/machine-clients`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{MachineClient, MachineClientIn, NewMachineClient};
use super::{secrets, store};
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a machine client.
///
/// The answer holds its first secret, which is not shown again. With id and secret the client gets
/// access tokens at `POST /oauth/token`.
#[utoipa::path(
    tag = "machine-clients", operation_id = "create_machine_client",
    security(("bearer" = ["manage"])), params(IdempotencyKey),
    request_body(content = MachineClientIn, description = "The client."),
    responses(
        (status = 201, description = "The client and its first secret.", body = NewMachineClient,
            headers(
                ("Location" = String, description = "Path of the client."),
                ("ETag" = String, description = "Version of the client."),
            )),
        CreateErrors,
    ),
)]
#[post("/machine-clients")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    body: Body<MachineClientIn>,
) -> Result<Written<NewMachineClient>, ApiError> {
    let new = body.into_inner().parse()?;
    write
        .run(&app, &caller, async |tx| {
            let found = store::insert(tx, &app, caller.practice_id(), new).await?;
            let secret = secrets::first(tx, &app, &found.client).await?;
            let touched = Touched::new("machine_client", found.client.id);
            let etag = ETag::of(found.client.version);
            let path = format!("/v1/machine-clients/{}", found.client.id);
            let made = NewMachineClient { client: MachineClient::from(found), secret };
            Ok(Done::new(touched, Answer::created(path, made).tagged(&etag).secret()))
        })
        .await
}
