//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::auth::sessions::{OpenedSession, WayIn};
use crate::entities::sessions;
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

/// The refresh token of a session.
#[derive(Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"refresh_token": "5xLwOT0kQ7Y0c1u2Yx8mXn3c9gq4vP1sJt6bR7dEwFo"})))]
pub struct SessionRefresh {
    /// The newest refresh token of the session. It works once.
    #[schema(
        min_length = 1,
        max_length = 200,
        example = "5xLwOT0kQ7Y0c1u2Yx8mXn3c9gq4vP1sJt6bR7dEwFo"
    )]
    pub refresh_token: String,
}

/// A session with its tokens, and whose it is.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000031",
    "access_token": "eyJ0eXAiOiJhdCtqd3QiLCJhbGciOiJFZERTQSJ9.e30.c2ln",
    "token_type": "Bearer",
    "expires_in": 900,
    "refresh_token": "5xLwOT0kQ7Y0c1u2Yx8mXn3c9gq4vP1sJt6bR7dEwFo",
    "idle_expires_at": "2027-05-20T12:00:00Z",
    "expires_at": "2027-10-17T12:00:00Z",
    "account": {
        "id": "01964f1e-6a00-7000-8000-000000000001",
        "email": "ann@example.org",
        "display_name": "Ann",
        "role": "advisor",
        "practice": "Prairie Advisors",
        "units": "us",
        "has_password": true,
        "disabled": false,
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z"
    }
})))]
pub struct Session {
    /// Id of the session.
    pub id: Uuid,
    /// Send it as `Authorization: Bearer …`.
    #[schema(example = "eyJ0eXAiOiJhdCtqd3QiLCJhbGciOiJFZERTQSJ9.e30.c2ln")]
    pub access_token: String,
    /// Always `Bearer`.
    #[schema(example = "Bearer")]
    pub token_type: String,
    /// Seconds until the access token expires.
    #[schema(minimum = 0, example = 900)]
    pub expires_in: u32,
    /// Send it to `POST /v1/sessions/refresh` for the next access token. It works once.
    #[schema(example = "5xLwOT0kQ7Y0c1u2Yx8mXn3c9gq4vP1sJt6bR7dEwFo")]
    pub refresh_token: String,
    /// When the session ends unless it is refreshed before.
    pub idle_expires_at: DateTime<Utc>,
    /// When the session ends at the latest.
    pub expires_at: DateTime<Utc>,
    /// Who is signed in.
    pub account: Account,
}

impl Session {
    /// What was opened or refreshed, for its account.
    pub fn of(opened: OpenedSession, account: Account) -> Self {
        let OpenedSession {
            id,
            access_token,
            expires_in,
            refresh_token,
            idle_expires_at,
            expires_at,
        } = opened;
        Self {
            id,
            access_token,
            token_type: "Bearer".to_owned(),
            expires_in,
            refresh_token,
            idle_expires_at,
            expires_at,
            account,
        }
    }
}

/// How somebody signed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(examples("password"))]
pub enum SignedInWith {
    /// A password.
    Password,
    /// An access link.
    AccessLink,
    /// A token of another issuer.
    Outside,
}

/// A session that is open, without its tokens.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000031",
    "signed_in_with": "password",
    "present": true,
    "created_at": "2027-04-20T12:00:00Z",
    "refreshed_at": "2027-04-20T12:15:00Z",
    "idle_expires_at": "2027-05-20T12:15:00Z",
    "expires_at": "2027-10-17T12:00:00Z"
})))]
pub struct OpenSession {
    /// Id of the session.
    pub id: Uuid,
    /// How it began.
    pub signed_in_with: SignedInWith,
    /// Whether it is the one of this request.
    #[schema(example = true)]
    pub present: bool,
    /// When it began.
    pub created_at: DateTime<Utc>,
    /// When it was last refreshed.
    pub refreshed_at: DateTime<Utc>,
    /// When it ends unless it is refreshed before.
    pub idle_expires_at: DateTime<Utc>,
    /// When it ends at the latest.
    pub expires_at: DateTime<Utc>,
}

impl OpenSession {
    /// A row, as seen from the session of the request.
    pub fn seen_from(row: &sessions::Model, present: Option<Uuid>) -> Self {
        Self {
            id: row.id,
            signed_in_with: match row.signed_in_by {
                WayIn::Password => SignedInWith::Password,
                WayIn::AccessLink => SignedInWith::AccessLink,
                WayIn::Outside => SignedInWith::Outside,
            },
            present: present == Some(row.id),
            created_at: row.created_at,
            refreshed_at: row.refreshed_at,
            idle_expires_at: row.idle_expires_at,
            expires_at: row.expires_at,
        }
    }
}

/// A page of open sessions.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000031",
        "signed_in_with": "password",
        "present": true,
        "created_at": "2027-04-20T12:00:00Z",
        "refreshed_at": "2027-04-20T12:15:00Z",
        "idle_expires_at": "2027-05-20T12:15:00Z",
        "expires_at": "2027-10-17T12:00:00Z"
    }]
})))]
pub struct OpenSessionPage {
    /// The sessions of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<OpenSession>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which page.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct SessionFilter {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
