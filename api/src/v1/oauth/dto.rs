//! What goes over the wire.

use serde::Serialize;
use utoipa::ToSchema;

/// A request for an access token. A client sends its id and secret either here or by HTTP Basic,
/// not both. Members that are not named here are passed over, as the standard asks.
#[derive(ToSchema)]
#[schema(examples(json!({
    "grant_type": "client_credentials",
    "scope": "read",
    "client_id": "01964f1e-6a00-7000-8000-000000000021",
    "client_secret": "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"
})))]
pub struct TokenRequest {
    /// Always `client_credentials`.
    #[schema(min_length = 1, max_length = 100, example = "client_credentials")]
    pub grant_type: String,
    /// The scopes that the token shall have, split by single spaces; all of the client when absent.
    #[schema(nullable = false, max_length = 400, example = "read")]
    pub scope: Option<String>,
    /// Id of the machine client.
    #[schema(nullable = false, max_length = 100, example = "01964f1e-6a00-7000-8000-000000000021")]
    pub client_id: Option<String>,
    /// A secret of the machine client.
    #[schema(
        nullable = false,
        max_length = 200,
        format = Password,
        example = "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"
    )]
    pub client_secret: Option<String>,
}

/// An access token of a machine client.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "access_token": "eyJ0eXAiOiJhdCtqd3QiLCJhbGciOiJFZERTQSJ9.e30.c2ln",
    "token_type": "Bearer",
    "expires_in": 900,
    "scope": "read"
})))]
pub struct ClientToken {
    /// Send it as `Authorization: Bearer …`.
    #[schema(example = "eyJ0eXAiOiJhdCtqd3QiLCJhbGciOiJFZERTQSJ9.e30.c2ln")]
    pub access_token: String,
    /// Always `Bearer`.
    #[schema(example = "Bearer")]
    pub token_type: String,
    /// Seconds until the token expires.
    #[schema(minimum = 60, example = 900)]
    pub expires_in: u32,
    /// What the token may do.
    #[schema(example = "read")]
    pub scope: String,
}

/// Why no token was issued, in the form of RFC 6749, section 5.2.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "error": "invalid_client",
    "error_description": "The client is not known, or its secret is wrong."
})))]
pub struct OauthError {
    /// The code; test for this one. `invalid_request`, `invalid_client`, `invalid_scope` and
    /// `unsupported_grant_type` are of the standard; `slow_down`, `temporarily_unavailable` and
    /// `server_error` go with the statuses 429, 503 and 500.
    #[schema(example = "invalid_client")]
    pub error: String,
    /// What went wrong, for people.
    #[schema(example = "The client is not known, or its secret is wrong.")]
    pub error_description: String,
}

/// Where and how tokens are got (RFC 8414).
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "issuer": "https://dibble.example.org",
    "token_endpoint": "https://dibble.example.org/oauth/token",
    "jwks_uri": "https://dibble.example.org/.well-known/jwks.json",
    "scopes_supported": ["read", "keep"],
    "response_types_supported": [],
    "grant_types_supported": ["client_credentials"],
    "token_endpoint_auth_methods_supported": ["client_secret_basic", "client_secret_post"]
})))]
pub struct AuthorizationServer {
    /// The address of this service.
    #[schema(example = "https://dibble.example.org")]
    pub issuer: String,
    /// Where a machine client gets a token.
    #[schema(example = "https://dibble.example.org/oauth/token")]
    pub token_endpoint: String,
    /// Where the public keys are that check our tokens.
    #[schema(example = "https://dibble.example.org/.well-known/jwks.json")]
    pub jwks_uri: String,
    /// The scopes that a machine client can have.
    #[schema(max_items = 20, example = json!(["read", "keep"]))]
    pub scopes_supported: Vec<String>,
    /// None: nobody is sent to a page to sign in.
    #[schema(max_items = 0, example = json!([]))]
    pub response_types_supported: Vec<String>,
    /// The kinds of grant.
    #[schema(max_items = 1, example = json!(["client_credentials"]))]
    pub grant_types_supported: Vec<String>,
    /// How a client proves who it is.
    #[schema(max_items = 2, example = json!(["client_secret_basic", "client_secret_post"]))]
    pub token_endpoint_auth_methods_supported: Vec<String>,
}
