//! `PUT /v1/growers/{id}/mail`

use actix_web::put;
use actix_web::web::Data;

use super::dto::{GrowerMail, GrowerMailIn};
use crate::app::AppState;
use crate::auth::{Caller, CanAcknowledge};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id};
use crate::mail::wishes::{self, When, Whose};
use crate::v1::growers;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Say what a grower agreed to get by mail.
///
/// Mail when a sheet is ready, with an address that shows it on the phone. The grower's own account can
/// say so too, and each mail has an address that stops it.
#[utoipa::path(
    tag = "growers", operation_id = "set_grower_mail", security(("bearer" = ["acknowledge"])),
    params(("id" = Uuid, Path, description = "Id of the grower."), IdempotencyKey),
    request_body(content = GrowerMailIn, description = "What was agreed."),
    responses(
        (status = 200, description = "What the grower gets.", body = GrowerMail), CreateUnderErrors,
    ),
)]
#[put("/growers/{id}/mail")]
pub(super) async fn set_grower(
    app: Data<AppState>,
    caller: Caller<CanAcknowledge>,
    write: Write,
    id: Id,
    body: Body<GrowerMailIn>,
) -> Result<Written<GrowerMail>, ApiError> {
    let GrowerMailIn { sheets } = body.into_inner();
    let by = (caller.practice_id(), caller.account_id());
    write
        .run(&app, &caller, async |tx| {
            let grower = growers::store::find(tx, caller.scope(), id.0).await?;
            let whose = Whose::Grower(grower.id);
            let row = wishes::set(tx, &app, by, whose, (When::NEVER, sheets)).await?;
            let touched = Touched::new("grower", grower.id).of_grower(grower.id);
            let answer = GrowerMail::of(Some(&row), grower.email.is_some());
            Ok(Done::new(touched, Answer::ok(answer)))
        })
        .await
}
