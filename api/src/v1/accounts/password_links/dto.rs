//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

/// A link that sets a password, once.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000041",
    "account_id": "01964f1e-6a00-7000-8000-000000000001",
    "token": "h1Yk3s9QzW0o5bRr8TqfVx2LmCj7uPdE6nGiAaKtZcM",
    "expires_at": "2027-04-27T12:00:00Z"
})))]
pub struct PasswordLink {
    /// Id of the link.
    pub id: Uuid,
    /// The account whose password it sets.
    pub account_id: Uuid,
    /// The secret. It is shown only now: give it to the person, by a way that others do not read.
    #[schema(example = "h1Yk3s9QzW0o5bRr8TqfVx2LmCj7uPdE6nGiAaKtZcM")]
    pub token: String,
    /// Until when it works.
    pub expires_at: DateTime<Utc>,
}

/// A link and the password that it sets.
#[derive(Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "token": "h1Yk3s9QzW0o5bRr8TqfVx2LmCj7uPdE6nGiAaKtZcM", "new_password": "a long enough one"
})))]
pub struct PasswordLinkUse {
    /// The secret of the link.
    #[schema(
        min_length = 1,
        max_length = 200,
        example = "h1Yk3s9QzW0o5bRr8TqfVx2LmCj7uPdE6nGiAaKtZcM"
    )]
    pub token: String,
    /// The password from now on.
    #[schema(min_length = 12, max_length = 128, format = Password, example = "a long enough one")]
    pub new_password: String,
}
