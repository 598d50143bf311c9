//! What the world may know of us: the keys that check our tokens. Open to all.

use actix_web::http::header::CACHE_CONTROL;
use actix_web::web::Data;
use actix_web::{HttpResponse, get};
use serde::Serialize;
use utoipa::ToSchema;

use crate::app::AppState;
use crate::auth::keys::{Jwk, KEPT_BY_OTHERS};
use crate::http::responses::PublicErrors;
use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(jwks);
}

/// A set of public keys (RFC 7517, section 5).
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "keys": [{
        "kty": "OKP",
        "crv": "Ed25519",
        "x": "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo",
        "alg": "EdDSA",
        "use": "sig",
        "kid": "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k"
    }]
})))]
pub struct JwkSet {
    /// The keys, the one that signs latest first.
    #[schema(min_items = 1, max_items = 100)]
    pub keys: Vec<Jwk>,
}

/// Get the public keys of access tokens.
///
/// For whoever checks access tokens by himself. Read it anew after the time in `Cache-Control`, and
/// at most once in a while when a token names a key that is not in it. A new key is here for ten
/// minutes before it signs; an old one stays until the last token that it signed has expired.
#[utoipa::path(
    tag = "service", operation_id = "get_json_web_keys", security(()),
    responses(
        (status = 200, description = "The keys.", body = JwkSet, headers(
            ("Cache-Control" = String, description = "How long the answer may be kept."),
        )),
        PublicErrors,
    ),
)]
#[get("/.well-known/jwks.json")]
async fn jwks(app: Data<AppState>) -> HttpResponse {
    let now = app.clock.now();
    app.keys.renew_if_due(&app.db, now).await;
    let keys = app.keys.published(now).iter().map(Jwk::from).collect();
    let kept = format!("public, max-age={}", KEPT_BY_OTHERS.num_seconds());
    HttpResponse::Ok().insert_header((CACHE_CONTROL, kept)).json(JwkSet { keys })
}
