//! What goes over the wire.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::auth::role::Role;
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
    "units": "us"
})))]
pub struct Account {
    /// Id of the account.
    pub id: Uuid,
    /// E-mail address, in lower case.
    #[schema(example = "ann@example.org")]
    pub email: String,
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
