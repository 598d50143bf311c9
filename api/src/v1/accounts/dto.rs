//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::auth::no_password;
use crate::auth::role::Role;
use crate::entities::accounts;
use crate::http::patch::present;
use crate::v1::units::Units;

/// An account.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
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
})))]
pub struct Account {
    /// Id of the account.
    pub id: Uuid,
    /// E-mail address, in lower case; absent where nobody signs in with one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "ann@example.org")]
    pub email: Option<String>,
    /// How people call the account.
    #[schema(example = "Ann")]
    pub display_name: String,
    /// What the account is, and so what it may do.
    pub role: Role,
    /// The grower whose objects a grower's account sees.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Name of the practice.
    #[schema(example = "Prairie Advisors")]
    pub practice: String,
    /// Units of computed answers, unless a request asks for others.
    pub units: Units,
    /// Whether a password was set.
    #[schema(example = true)]
    pub has_password: bool,
    /// Whether the account is shut out.
    #[schema(example = false)]
    pub disabled: bool,
    /// Counts the changes; also in the header `ETag` of `/v1/accounts/{id}`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the account was made.
    pub created_at: DateTime<Utc>,
}

impl Account {
    /// A row, in the practice of this name.
    pub fn of(row: accounts::Model, practice: String) -> Self {
        let accounts::Model {
            practice_id: _,
            id,
            email,
            display_name,
            role,
            grower_id,
            password_hash,
            units,
            created_at,
            disabled_at,
            version,
        } = row;
        Self {
            id,
            email: Some(email).filter(|email| !no_password::is_made_up(email)),
            display_name,
            role,
            grower_id,
            practice,
            units,
            has_password: password_hash != no_password::HASH,
            disabled: disabled_at.is_some(),
            version,
            created_at,
        }
    }
}

/// A new account.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "email": "ben@example.org", "display_name": "Ben", "role": "advisor", "units": "us"
})))]
pub struct AccountIn {
    /// E-mail address that signs in; kept in lower case. No other account has it, in any practice.
    #[schema(
        min_length = 3,
        max_length = 254,
        example = "ben@example.org",
        pattern = r"^[^@\s\x00-\x1F\x7F-\x9F]+@[^@\s\x00-\x1F\x7F-\x9F]+$"
    )]
    pub email: String,
    /// How people call the account.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "Ben",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub display_name: String,
    /// What the account is, and so what it may do.
    pub role: Role,
    /// The grower whose objects the account sees; needed for a `grower`, and only for one.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Units of computed answers, unless a request asks for others; `us` when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub units: Option<Units>,
}

/// Changes to one's own account. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"units": "si"})))]
pub struct AccountChange {
    /// How people call the account.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "Ann",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub display_name: Option<String>,
    /// Units of computed answers, unless a request asks for others.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub units: Option<Units>,
}

/// A new password, and the one that it follows.
#[derive(Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "current_password": "a long enough one", "new_password": "an even longer one"
})))]
pub struct PasswordChange {
    /// The password until now.
    #[schema(min_length = 1, max_length = 128, format = Password, example = "a long enough one")]
    pub current_password: String,
    /// The password from now on.
    #[schema(min_length = 12, max_length = 128, format = Password, example = "an even longer one")]
    pub new_password: String,
}

/// A page of accounts.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
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
    }]
})))]
pub struct AccountPage {
    /// The accounts of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Account>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which accounts.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct AccountFilter {
    /// Only those of this role.
    #[serde(default)]
    #[param(nullable = false)]
    pub role: Option<Role>,
    /// Only those that are shut out, or only those that are not.
    #[serde(default)]
    #[param(nullable = false, example = false)]
    pub disabled: Option<bool>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
