//! `POST /oauth/token`

use actix_web::http::header::{CACHE_CONTROL, PRAGMA};
use actix_web::web::{Bytes, Data};
use actix_web::{HttpRequest, HttpResponse, post};
use chrono::TimeDelta;

use super::authenticate::{self, Credentials};
use super::dto::{ClientToken, TokenRequest};
use super::error::{Refusal, TokenErrors};
use super::form;
use crate::app::AppState;
use crate::auth::network::Network;
use crate::auth::token::{self, Granted, Subject};
use crate::v1::machine_clients::store::Found;
use crate::v1::machine_clients::{scopes, secrets};

/// Get an access token as a machine client.
///
/// The grant is `client_credentials` (RFC 6749, section 4.4); there is no refresh token. Errors
/// have the form of that standard. A right secret never waits; after five wrong ones within 15
/// minutes further wrong ones do.
#[utoipa::path(
    tag = "machine-clients", operation_id = "issue_token", security(()),
    request_body(
        content = TokenRequest, content_type = "application/x-www-form-urlencoded",
        description = "The grant, and who asks for it unless that is sent by HTTP Basic."
    ),
    responses(
        (status = 200, description = "The token.", body = ClientToken, headers(
            ("Cache-Control" = String, description = "`no-store`."),
        )),
        TokenErrors,
    ),
)]
#[post("/oauth/token")]
pub(super) async fn issue(
    app: Data<AppState>,
    request: HttpRequest,
    network: Network,
    body: Result<Bytes, actix_web::Error>,
) -> HttpResponse {
    let token = match body {
        Ok(body) => answer(&app, &request, network, &body).await,
        Err(_broken) => Err(Refusal::InvalidRequest("The form is too long, or broke off.")),
    };
    match token {
        Ok(token) => HttpResponse::Ok()
            .insert_header((CACHE_CONTROL, "no-store"))
            .insert_header((PRAGMA, "no-cache"))
            .json(token),
        Err(refusal) => refusal.answer(),
    }
}

async fn answer(
    app: &AppState,
    request: &HttpRequest,
    network: Network,
    body: &[u8],
) -> Result<ClientToken, Refusal> {
    if !request.query_string().is_empty() {
        return Err(Refusal::InvalidRequest("Nothing may stand in the query."));
    }
    let form = form::read(request, body)?;
    if form.grant_type != "client_credentials" {
        return Err(Refusal::UnsupportedGrantType);
    }
    let shown = authenticate::credentials(request, &form)?;
    let now = app.clock.now();
    let Some((found, secret)) = authenticate::find(app, &shown).await? else {
        return Err(wrong(app, network, &shown));
    };
    let scope = scopes::narrowed(&found.client.scopes, form.scope.as_deref())
        .ok_or(Refusal::InvalidScope)?;
    secrets::note_use(&app.db, &secret, now).await?;
    signed(app, &found, scope)
}

/// Guessing is slowed down for each client that is named. Only wrong secrets wait: otherwise
/// whoever knows the id of a client could shut it out.
fn wrong(app: &AppState, network: Network, shown: &Credentials) -> Refusal {
    let whose: String = shown.id.chars().take(64).collect();
    let whose = format!("client {whose}");
    match app.throttle.begin(&whose, network.0, app.clock.now()) {
        Ok(()) => Refusal::InvalidClient,
        Err(seconds) => Refusal::SlowDown(seconds),
    }
}

fn signed(app: &AppState, found: &Found, scope: String) -> Result<ClientToken, Refusal> {
    let lifetime = app.settings.token_lifetime;
    let granted =
        Granted { scope: Some(scope.clone()), session: None, client: Some(found.client.id) };
    let seconds = TimeDelta::seconds(i64::from(lifetime));
    let access_token = token::issue(app, Subject::of(&found.account), granted, seconds)?;
    Ok(ClientToken { access_token, token_type: "Bearer".to_owned(), expires_in: lifetime, scope })
}
