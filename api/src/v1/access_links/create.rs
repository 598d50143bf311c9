//! `POST /v1/access-links`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{AccessLink, AccessLinkIn, NewAccessLink};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Make an access link for a grower.
///
/// Whoever holds the link is signed in as the grower, without a password. A grower who has no
/// account gets one. The link is shown this once.
#[utoipa::path(
    tag = "access-links", operation_id = "create_access_link",
    security(("bearer" = ["advise"])), params(IdempotencyKey),
    request_body(content = AccessLinkIn, description = "For whom, and until when."),
    responses(
        (status = 201, description = "The link.", body = NewAccessLink, headers(
            ("Location" = String, description = "Path of the link, without its token."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/access-links")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    body: Body<AccessLinkIn>,
) -> Result<Written<NewAccessLink>, ApiError> {
    let now = app.clock.now();
    let new = body.into_inner().parse(now)?;
    write
        .run(&app, &caller, async |tx| {
            let who = (caller.scope(), caller.account_id());
            let (row, token) = store::insert(tx, &app, who, new).await?;
            let touched = Touched::new("access_link", row.id).of_grower(row.grower_id);
            let path = format!("/v1/access-links/{}", row.id);
            let url = app.settings.public_url.of(&format!("/go#{token}"));
            let made = NewAccessLink { link: AccessLink::at(now, row), token, url };
            Ok(Done::new(touched, Answer::created(path, made).secret()))
        })
        .await
}
