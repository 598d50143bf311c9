//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::entities::farms;
use crate::http::page::Total;
use crate::http::patch::present;

/// A new farm.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "name": "Home farm"
})))]
pub struct FarmIn {
    /// The grower whose farm it is.
    pub grower_id: Uuid,
    /// Name, unique among the farms of the grower.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "Home farm",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
}

/// Changes to a farm. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"name": "River farm"})))]
pub struct FarmPatch {
    /// Name, unique among the farms of the grower.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "River farm",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
}

/// A farm.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000003",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "name": "Home farm",
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct Farm {
    /// Id of the farm.
    pub id: Uuid,
    /// The grower whose farm it is.
    pub grower_id: Uuid,
    /// Name, unique among the farms of the grower.
    #[schema(example = "Home farm")]
    pub name: String,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the farm was made.
    pub created_at: DateTime<Utc>,
    /// When the farm was last changed.
    pub updated_at: DateTime<Utc>,
}

impl From<farms::Model> for Farm {
    fn from(row: farms::Model) -> Self {
        let farms::Model { practice_id: _, id, grower_id, name, version, created_at, updated_at } =
            row;
        Self { id, grower_id, name, version, created_at, updated_at }
    }
}

/// A page of farms.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000003",
        "grower_id": "01964f1e-6a00-7000-8000-000000000002",
        "name": "Home farm",
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    }]
})))]
pub struct FarmPage {
    /// The farms of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Farm>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which farms.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct FarmFilter {
    /// Only those whose name begins so; A to Z and a to z are the same.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120, example = "mil")]
    pub name: Option<String>,
    /// Only the farms of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
    /// Only what was made or changed at this time or later, in the order of changes. Ask five
    /// minutes before the time of the walk before: a change may be seen a little late.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-20T12:00:00Z")]
    pub updated_since: Option<DateTime<Utc>>,
    /// Whether to count the rows that the filters let through.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub count: Option<bool>,
}
