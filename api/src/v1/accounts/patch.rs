//! Changes to an account by the lead, and what must fit together afterwards.

use serde::Deserialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::auth::role::Role;
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Patch, text};
use crate::v1::units::Units;

/// Changes to an account. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"role": "read_only"})))]
pub struct AccountPatch {
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
    /// What the account is, from the next request on. The last lead of a practice stays one.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub role: Option<Role>,
    /// The grower whose objects the account sees; needed for a `grower`, and only for one. `null`
    /// empties it.
    #[serde(default)]
    #[schema(value_type = Option<Uuid>)]
    pub grower_id: Patch<Uuid>,
    /// Units of computed answers, unless a request asks for others.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub units: Option<Units>,
    /// Whether the account is shut out. All its sessions end at once, and links that would set its
    /// password stop working. The last lead of a practice can't be shut out.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = true)]
    pub disabled: Option<bool>,
}

impl AccountPatch {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<Self, ApiError> {
        let display_name =
            self.display_name.map(|given| text::name("/display_name", &given)).transpose()?;
        Ok(Self { display_name, ..self })
    }
}

/// A grower's account sees one grower's objects, any other sees none in particular.
///
/// # Errors
/// When the two do not fit together.
pub(super) fn fits(role: Role, grower_id: Option<Uuid>) -> Result<(), BadMember> {
    match (role, grower_id) {
        (Role::Grower, None) => {
            Err(BadMember::new("/grower_id", "An account of a grower needs its grower.")
                .why("it sees what is of this grower and nothing else"))
        }
        (Role::Lead | Role::Advisor | Role::RecordsSystem | Role::ReadOnly, Some(id)) => {
            Err(BadMember::new("/grower_id", "Only an account of a grower has one.")
                .given(id)
                .allowed("absent or null"))
        }
        (Role::Grower, Some(_))
        | (Role::Lead | Role::Advisor | Role::RecordsSystem | Role::ReadOnly, None) => Ok(()),
    }
}
