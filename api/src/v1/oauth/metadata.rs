//! `GET /.well-known/oauth-authorization-server`

use actix_web::get;
use actix_web::web::Data;

use super::dto::AuthorizationServer;
use crate::app::AppState;
use crate::auth::permission::PERMISSIONS;
use crate::auth::role::Role;
use crate::http::responses::PublicErrors;
use crate::http::{Answer, ApiError};

/// Get where and how machine clients get tokens.
///
/// The metadata of RFC 8414. The address of the service is the setting `DIBBLE_PUBLIC_URL`.
#[utoipa::path(
    tag = "machine-clients", operation_id = "get_authorization_server", security(()),
    responses(
        (status = 200, description = "The metadata.", body = AuthorizationServer),
        PublicErrors,
    ),
)]
#[get("/.well-known/oauth-authorization-server")]
pub(super) async fn get(app: Data<AppState>) -> Result<Answer<AuthorizationServer>, ApiError> {
    std::future::ready(Ok(Answer::ok(of(&app)))).await
}

fn of(app: &AppState) -> AuthorizationServer {
    let url = &app.settings.public_url;
    let texts = |list: &[&str]| list.iter().map(ToString::to_string).collect();
    let machines = [Role::RecordsSystem, Role::ReadOnly];
    let scopes = PERMISSIONS
        .iter()
        .filter(|row| machines.iter().any(|role| row.roles.contains(role)))
        .map(|row| row.name.to_owned());
    AuthorizationServer {
        issuer: url.to_string(),
        token_endpoint: url.of("/oauth/token"),
        jwks_uri: url.of("/.well-known/jwks.json"),
        scopes_supported: scopes.collect(),
        response_types_supported: Vec::new(),
        grant_types_supported: texts(&["client_credentials"]),
        token_endpoint_auth_methods_supported: texts(&[
            "client_secret_basic",
            "client_secret_post",
        ]),
    }
}
