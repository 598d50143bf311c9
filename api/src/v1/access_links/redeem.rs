//! `POST /v1/access-links/redeem`

use actix_web::post;
use actix_web::web::Data;

use super::dto::AccessLinkToken;
use super::store;
use crate::app::AppState;
use crate::auth::network::Network;
use crate::auth::sessions::{self, SignedInBy};
use crate::http::responses::AccessLinkErrors;
use crate::http::{Answer, ApiError, Body, ProblemCode};
use crate::v1::accounts;
use crate::v1::sessions::dto::Session;
use crate::writes::{Done, Touched, Write, Written};

/// Sign in with an access link.
///
/// Opens a session of the grower. The token stands in the body, never in a path: paths are logged.
/// A token that was used, has expired, was revoked or never was gets one and the same answer.
#[utoipa::path(
    tag = "access-links", operation_id = "redeem_access_link", security(()),
    request_body(content = AccessLinkToken, description = "The token of the link."),
    responses((status = 201, description = "Signed in.", body = Session), AccessLinkErrors),
)]
#[post("/access-links/redeem")]
pub(super) async fn redeem(
    app: Data<AppState>,
    network: Network,
    write: Write,
    body: Body<AccessLinkToken>,
) -> Result<Written<Session>, ApiError> {
    let AccessLinkToken { token } = body.into_inner();
    let now = app.clock.now();
    app.throttle.begin_from(network.0, now).map_err(|seconds| {
        let detail = format!("Too many links that do not work. Try again in {seconds} seconds.");
        ApiError::try_later(ProblemCode::TooManyRequests, detail, seconds)
    })?;
    let (link, account) = store::by_token(&app.db, &token, now).await?.ok_or_else(no_good)?;
    app.throttle.succeeded_from(network.0, now);
    write
        .run(&app, &account, async |tx| {
            if !store::use_once(tx, &link, now).await? {
                return Err(no_good());
            }
            let how = SignedInBy::AccessLink(link.id);
            let opened = sessions::open(tx, &app, &account, how, now).await?;
            let touched = Touched::new("session", opened.id).of_grower(link.grower_id);
            let place = format!("/v1/sessions/{}", opened.id);
            let account = accounts::store::with_practice(tx, account.clone()).await?;
            Ok(Done::new(touched, Answer::created(place, Session::of(opened, account)).secret()))
        })
        .await
}

fn no_good() -> ApiError {
    ApiError::new(ProblemCode::LinkNotGood, ProblemCode::LinkNotGood.meaning())
}
