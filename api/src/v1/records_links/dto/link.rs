//! A connection to a records system.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::auth::{RecordsAuth, RecordsAuthIn};
use super::paging::{RecordsChanges, RecordsPaging};
use super::resource::RecordsResources;
use crate::entities::records_links;
use crate::http::patch::present;
use crate::http::{ApiError, Patch};

/// Profiles that are written already.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(example = "ogc_features")]
pub enum RecordsPreset {
    /// A GeoJSON `FeatureCollection` (RFC 7946): records at `$.features[*]`, `id` at `/id`, `name` at
    /// `/properties/name`, the boundary at `/geometry`; all in one page unless `paging` says otherwise.
    FeatureCollection,
    /// OGC API Features: the same, and pages by `links`.
    OgcFeatures,
}

/// A new connection to a records system.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "name": "Records of the county", "system": "county-records",
    "base_url": "https://records.example.org/api",
    "auth": {"kind": "header", "name": "X-Key", "secret": "4Bq9-invented"},
    "paging": {"kind": "next_url", "pointer": "/links/next"},
    "changes": {"kind": "etag"},
    "resources": {
        "growers": {"path": "/farms", "items": "$.data[*].owner", "id": "/id", "name": "/name"},
        "farms": {"path": "/farms", "items": "$.data[*]", "id": "/uid", "name": "/label", "parent": "/owner/id"}
    },
    "run_every_hours": 24
})))]
pub struct RecordsLinkIn {
    /// Name, unique in the practice.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "Records of the county",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Short name of the records system, under which its ids are kept. Two links may share it where they lead
    /// to the same system. It stays as it is.
    #[schema(
        min_length = 2,
        max_length = 40,
        pattern = "^[a-z][a-z0-9-]{1,39}$",
        example = "county-records"
    )]
    pub system: String,
    /// Address that all paths begin with; `https`, unless the operator of the service allows the network.
    #[schema(min_length = 8, max_length = 500, example = "https://records.example.org/api")]
    pub base_url: String,
    /// How to sign in there.
    pub auth: RecordsAuthIn,
    /// A profile that is written already; `paging` and each resource may say more.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub preset: Option<RecordsPreset>,
    /// How one page leads to the next; as the preset says when absent, else there is one page.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub paging: Option<RecordsPaging>,
    /// How what did not change is passed over; `full` when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub changes: Option<RecordsChanges>,
    /// What is fetched.
    pub resources: RecordsResources,
    /// How often it is fetched without being asked, in hours; never when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 744, example = 24)]
    pub run_every_hours: Option<u16>,
}

/// Changes to a connection. What is absent stays; each member is exchanged as a whole. A new host needs `auth`
/// again: a secret goes nowhere it was not meant for.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"paging": {"kind": "link_header"}, "run_every_hours": null})))]
pub struct RecordsLinkPatch {
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
    /// Address that all paths begin with.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 8,
        max_length = 500,
        example = "https://records.example.org/api"
    )]
    pub base_url: Option<String>,
    /// How to sign in there.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub auth: Option<RecordsAuthIn>,
    /// A profile that is written already.
    #[serde(default)]
    #[schema(value_type = Option<RecordsPreset>)]
    pub preset: Patch<RecordsPreset>,
    /// How one page leads to the next.
    #[serde(default)]
    #[schema(value_type = Option<RecordsPaging>)]
    pub paging: Patch<RecordsPaging>,
    /// How what did not change is passed over.
    #[serde(default)]
    #[schema(value_type = Option<RecordsChanges>)]
    pub changes: Patch<RecordsChanges>,
    /// What is fetched.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub resources: Option<RecordsResources>,
    /// How often it is fetched without being asked, in hours.
    #[serde(default)]
    #[schema(value_type = Option<u16>, minimum = 1, maximum = 744, example = 24)]
    pub run_every_hours: Patch<u16>,
}

/// How the records of a system are fetched and read, as it was entered, without the secret.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StoredProfile {
    /// Address that all paths begin with.
    pub base_url: String,
    /// How to sign in there.
    pub auth: RecordsAuth,
    /// A profile that is written already.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preset: Option<RecordsPreset>,
    /// How one page leads to the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paging: Option<RecordsPaging>,
    /// How what did not change is passed over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub changes: Option<RecordsChanges>,
    /// What is fetched.
    pub resources: RecordsResources,
}

/// A connection to a records system.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000081",
    "name": "Records of the county", "system": "county-records",
    "base_url": "https://records.example.org/api",
    "auth": {"kind": "header", "name": "X-Key"}, "secret_set": true,
    "paging": {"kind": "next_url", "pointer": "/links/next"},
    "resources": {
        "growers": {"path": "/clients", "items": "$.data[*]", "id": "/uid", "name": "/label"}
    },
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "created_by": "01964f1e-6a00-7000-8000-000000000001",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct RecordsLink {
    /// Id of the link.
    pub id: Uuid,
    /// Name, unique in the practice.
    #[schema(example = "Records of the county")]
    pub name: String,
    /// Short name of the records system, under which its ids are kept.
    #[schema(example = "county-records")]
    pub system: String,
    /// Address that all paths begin with.
    #[schema(example = "https://records.example.org/api")]
    pub base_url: String,
    /// How the service signs in there, without the secret.
    pub auth: RecordsAuth,
    /// Whether a secret is kept. It is never shown.
    #[schema(example = true)]
    pub secret_set: bool,
    /// A profile that is written already.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub preset: Option<RecordsPreset>,
    /// How one page leads to the next; as the preset says when absent, else there is one page.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub paging: Option<RecordsPaging>,
    /// How what did not change is passed over; `full` when absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub changes: Option<RecordsChanges>,
    /// What is fetched.
    pub resources: RecordsResources,
    /// How often it is fetched without being asked, in hours.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 24)]
    pub run_every_hours: Option<i32>,
    /// When it is fetched next without being asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub next_run_at: Option<DateTime<Utc>>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the link was made.
    pub created_at: DateTime<Utc>,
    /// Account that made it; runs that nobody asked for are its.
    pub created_by: Uuid,
    /// When the link was last changed.
    pub updated_at: DateTime<Utc>,
}

impl RecordsLink {
    /// A row as it goes out.
    pub fn show(row: records_links::Model) -> Result<Self, ApiError> {
        let records_links::Model {
            practice_id: _,
            id,
            name,
            system,
            profile,
            sealed_secret,
            remembered: _,
            run_every_hours,
            next_run_at,
            version,
            created_at,
            created_by,
            updated_at,
        } = row;
        let profile: StoredProfile = serde_json::from_value(profile).map_err(ApiError::internal)?;
        let StoredProfile { base_url, auth, preset, paging, changes, resources } = profile;
        Ok(Self {
            id,
            name,
            system,
            base_url,
            auth,
            secret_set: sealed_secret.is_some(),
            preset,
            paging,
            changes,
            resources,
            run_every_hours,
            next_run_at,
            version,
            created_at,
            created_by,
            updated_at,
        })
    }
}

/// A page of links.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct RecordsLinkPage {
    /// The links of this page.
    #[schema(max_items = 200)]
    pub items: Vec<RecordsLink>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which links.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct RecordsLinkFilter {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120)]
    pub cursor: Option<String>,
}
