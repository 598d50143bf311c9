//! What goes over the wire.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::v1::accounts::dto::Account;

/// An e-mail address and a password.
#[derive(Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"email": "ann@example.org", "password": "a long enough one"})))]
pub struct SignIn {
    /// The e-mail address of the account; upper and lower case are alike.
    #[schema(min_length = 1, max_length = 254, example = "ann@example.org")]
    pub email: String,
    /// The password.
    #[schema(min_length = 1, max_length = 128, format = Password, example = "a long enough one")]
    pub password: String,
}

/// An access token and whose it is.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "access_token": "eyJ0eXAiOiJhdCtqd3QiLCJhbGciOiJFZERTQSJ9.e30.c2ln",
    "token_type": "Bearer",
    "expires_in": 43200,
    "account": {
        "id": "01964f1e-6a00-7000-8000-000000000001",
        "email": "ann@example.org",
        "display_name": "Ann",
        "role": "advisor",
        "practice": "Prairie Advisors",
        "units": "us"
    }
})))]
pub struct Session {
    /// Send it as `Authorization: Bearer …`.
    #[schema(example = "eyJ0eXAiOiJhdCtqd3QiLCJhbGciOiJFZERTQSJ9.e30.c2ln")]
    pub access_token: String,
    /// Always `Bearer`.
    #[schema(example = "Bearer")]
    pub token_type: String,
    /// Seconds until the token expires.
    #[schema(minimum = 60, example = 43200)]
    pub expires_in: u32,
    /// Who is signed in.
    pub account: Account,
}
