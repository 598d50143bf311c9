//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::scopes;
use super::store::{ClientChange, Found, NewClient};
use crate::auth::role::Role;
use crate::entities::client_secrets;
use crate::http::patch::present;
use crate::http::{ApiError, Refused, text};

/// What a machine client is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(examples("records_system"))]
pub enum MachineRole {
    /// A farm records system: reads, and keeps growers, farms, fields, planters and calibrations.
    RecordsSystem,
    /// Reads.
    ReadOnly,
}

impl MachineRole {
    /// The role of the account.
    pub fn role(self) -> Role {
        match self {
            Self::RecordsSystem => Role::RecordsSystem,
            Self::ReadOnly => Role::ReadOnly,
        }
    }

    /// The role of an account as that of a machine client.
    pub fn of(role: Role) -> Self {
        match role {
            Role::RecordsSystem => Self::RecordsSystem,
            Role::ReadOnly | Role::Lead | Role::Advisor | Role::Grower => Self::ReadOnly,
        }
    }
}

/// A new machine client.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "name": "Records of the county", "role": "records_system", "scopes": ["read", "keep"]
})))]
pub struct MachineClientIn {
    /// Name, unique in the practice.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "Records of the county",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// What the client is; it stays so.
    pub role: MachineRole,
    /// The most that its tokens may do; each must be allowed to the role.
    #[schema(min_items = 1, max_items = 20, max_length = 20, example = json!(["read", "keep"]))]
    pub scopes: Vec<String>,
}

impl MachineClientIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<NewClient, ApiError> {
        let Self { name, role, scopes } = self;
        let mut refused = Refused::default();
        let name = refused.take(text::name("/name", &name));
        let scopes = refused.take_all(scopes::parse(role.role(), &scopes));
        match (name, scopes) {
            (Some(name), Some(scopes)) => Ok(NewClient { name, role: role.role(), scopes }),
            _ => Err(refused.into()),
        }
    }
}

/// Changes to a machine client. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"disabled": true})))]
pub struct MachineClientPatch {
    /// Name, unique in the practice.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "Records of the county",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
    /// The most that its tokens may do, from the next token on.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false, min_items = 1, max_items = 20, max_length = 20, example = json!(["read"])
    )]
    pub scopes: Option<Vec<String>>,
    /// Whether the client is shut out. Tokens that it has stop working at once.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = true)]
    pub disabled: Option<bool>,
}

impl MachineClientPatch {
    /// The only way from the wire to the store; which scopes are allowed depends on the role.
    pub(super) fn parse(self, role: Role) -> Result<ClientChange, ApiError> {
        let Self { name, scopes, disabled } = self;
        let mut refused = Refused::default();
        let name = name.and_then(|given| refused.take(text::name("/name", &given)));
        let scopes = scopes.and_then(|given| refused.take_all(scopes::parse(role, &given)));
        refused.finish()?;
        Ok(ClientChange { name, scopes, disabled })
    }
}

/// A program that signs in with a secret of its own.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000021",
    "name": "Records of the county",
    "role": "records_system",
    "scopes": ["read", "keep"],
    "disabled": false,
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct MachineClient {
    /// Id; the `client_id` of a token request.
    pub id: Uuid,
    /// Name, unique in the practice.
    #[schema(example = "Records of the county")]
    pub name: String,
    /// What the client is.
    pub role: MachineRole,
    /// The most that its tokens may do.
    #[schema(max_items = 20, example = json!(["read", "keep"]))]
    pub scopes: Vec<String>,
    /// Whether the client is shut out.
    #[schema(example = false)]
    pub disabled: bool,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the client was made.
    pub created_at: DateTime<Utc>,
    /// When the client was last changed.
    pub updated_at: DateTime<Utc>,
}

impl From<Found> for MachineClient {
    fn from(found: Found) -> Self {
        let Found { client, account } = found;
        Self {
            id: client.id,
            name: client.name,
            role: MachineRole::of(account.role),
            scopes: client.scopes.split(' ').map(str::to_owned).collect(),
            disabled: account.disabled_at.is_some(),
            version: client.version,
            created_at: client.created_at,
            updated_at: client.updated_at,
        }
    }
}

/// A secret of a machine client that was just made. It is shown this once.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000022",
    "client_secret": "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk",
    "created_at": "2027-04-20T12:00:00Z"
})))]
pub struct NewClientSecret {
    /// Id of the secret.
    pub id: Uuid,
    /// The secret; the `client_secret` of a token request.
    #[schema(
        min_length = 43,
        max_length = 43,
        pattern = "^[A-Za-z0-9_-]{43}$",
        example = "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"
    )]
    pub client_secret: String,
    /// When it was made.
    pub created_at: DateTime<Utc>,
}

/// A new machine client and its first secret, which is shown this once.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "client": {
        "id": "01964f1e-6a00-7000-8000-000000000021",
        "name": "Records of the county",
        "role": "records_system",
        "scopes": ["read", "keep"],
        "disabled": false,
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    },
    "secret": {
        "id": "01964f1e-6a00-7000-8000-000000000022",
        "client_secret": "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk",
        "created_at": "2027-04-20T12:00:00Z"
    }
})))]
pub struct NewMachineClient {
    /// The client.
    pub client: MachineClient,
    /// Its first secret.
    pub secret: NewClientSecret,
}

/// A secret of a machine client, without the secret itself.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000022",
    "created_at": "2027-04-20T12:00:00Z",
    "last_used_at": "2027-04-21T06:30:00Z"
})))]
pub struct ClientSecret {
    /// Id of the secret.
    pub id: Uuid,
    /// When it was made.
    pub created_at: DateTime<Utc>,
    /// When a token was last got with it; absent when never.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub last_used_at: Option<DateTime<Utc>>,
}

impl From<client_secrets::Model> for ClientSecret {
    fn from(row: client_secrets::Model) -> Self {
        let client_secrets::Model {
            practice_id: _,
            id,
            client_id: _,
            secret_hash: _,
            created_at,
            last_used_at,
        } = row;
        Self { id, created_at, last_used_at }
    }
}

/// The secrets of a machine client.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "id": "01964f1e-6a00-7000-8000-000000000022",
    "created_at": "2027-04-20T12:00:00Z",
    "last_used_at": "2027-04-21T06:30:00Z"
}]})))]
pub struct ClientSecretList {
    /// The secrets, oldest first: never more than two.
    #[schema(max_items = 2)]
    pub items: Vec<ClientSecret>,
}

/// A page of machine clients.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "id": "01964f1e-6a00-7000-8000-000000000021",
    "name": "Records of the county",
    "role": "records_system",
    "scopes": ["read", "keep"],
    "disabled": false,
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
}]})))]
pub struct MachineClientPage {
    /// The clients of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<MachineClient>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAtV2xJ0cOZLB")]
    pub next_cursor: Option<String>,
}

/// Which page of the machine clients.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct MachineClientFilter {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120)]
    pub cursor: Option<String>,
}
