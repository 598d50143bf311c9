//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::entities::practices;
use crate::entities::practices::AdvisorsSee;
use crate::http::patch::present;

/// A practice.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000009",
    "name": "Prairie Advisors",
    "advisors_see": "assigned",
    "version": 2,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-21T08:00:00Z"
})))]
pub struct Practice {
    /// Id of the practice.
    pub id: Uuid,
    /// Name of the practice.
    #[schema(example = "Prairie Advisors")]
    pub name: String,
    /// Which growers its advisors see.
    pub advisors_see: AdvisorsSee,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 2)]
    pub version: i32,
    /// When the practice was made.
    pub created_at: DateTime<Utc>,
    /// When the practice was last changed.
    pub updated_at: DateTime<Utc>,
}

impl From<practices::Model> for Practice {
    fn from(row: practices::Model) -> Self {
        let practices::Model { id, name, created_at, advisors_see, version, updated_at } = row;
        Self { id, name, advisors_see, version, created_at, updated_at }
    }
}

/// Changes to a practice. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"advisors_see": "assigned"})))]
pub struct PracticePatch {
    /// Which growers its advisors see.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub advisors_see: Option<AdvisorsSee>,
}
