//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::entities::dig_lessons;
use crate::v1::access_links::dto::AccessLink;
use crate::v1::accounts::dto::Account;
use crate::v1::adjustments::dto::Adjustment;
use crate::v1::calibrations::dto::Calibration;
use crate::v1::conditions::dto::ConditionsReport;
use crate::v1::dig_checks::answer::DigCheck;
use crate::v1::farms::dto::Farm;
use crate::v1::fields::dto::Field;
use crate::v1::growers::dto::Grower;
use crate::v1::planters::dto::Planter;
use crate::v1::recommendations::answer::Recommendation;

/// All that is known of a grower.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "exported_at": "2027-04-20T12:00:00Z",
    "grower": {
        "id": "01964f1e-6a00-7000-8000-000000000002",
        "name": "Miller Brothers",
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    },
    "farms": [],
    "fields": [],
    "planters": [],
    "calibrations": [],
    "conditions": [],
    "recommendations": [],
    "dig_checks": [],
    "adjustments": [],
    "lessons": [],
    "accounts": [],
    "access_links": []
})))]
pub struct GrowerExport {
    /// When the document was made.
    pub exported_at: DateTime<Utc>,
    /// The grower.
    pub grower: Grower,
    /// The farms.
    #[schema(max_items = 1_000_000)]
    pub farms: Vec<Farm>,
    /// The fields of the farms.
    #[schema(max_items = 1_000_000)]
    pub fields: Vec<Field>,
    /// The planters.
    #[schema(max_items = 1_000_000)]
    pub planters: Vec<Planter>,
    /// The calibrations of the planters.
    #[schema(max_items = 1_000_000)]
    pub calibrations: Vec<Calibration>,
    /// What was reported of the fields.
    #[schema(max_items = 1_000_000)]
    pub conditions: Vec<ConditionsReport>,
    /// The recommendations for the fields, drafts too.
    #[schema(max_items = 1_000_000)]
    pub recommendations: Vec<Recommendation>,
    /// The digs behind the planters.
    #[schema(max_items = 1_000_000)]
    pub dig_checks: Vec<DigCheck>,
    /// What the digs proposed, and what was decided.
    #[schema(max_items = 1_000_000)]
    pub adjustments: Vec<Adjustment>,
    /// Where the digs count in what the practice has learned.
    #[schema(max_items = 1_000_000)]
    pub lessons: Vec<ExportedLesson>,
    /// The accounts of the grower.
    #[schema(max_items = 1_000_000)]
    pub accounts: Vec<Account>,
    /// The links that let the grower in.
    #[schema(max_items = 1_000_000)]
    pub access_links: Vec<AccessLink>,
}

/// Where a dig counts in what the practice has learned.
#[derive(Debug, Serialize, ToSchema)]
pub struct ExportedLesson {
    /// The dig check.
    pub dig_check_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The year.
    #[schema(minimum = 1970, maximum = 9999, example = 2027)]
    pub season: i32,
    /// When it was dug.
    pub dug_at: DateTime<Utc>,
    /// Whether it teaches anything.
    #[schema(example = true)]
    pub teaches: bool,
}

impl From<dig_lessons::Model> for ExportedLesson {
    fn from(row: dig_lessons::Model) -> Self {
        let dig_lessons::Model { id, planter_id, field_id, season, dug_at, event, .. } = row;
        Self { dig_check_id: id, planter_id, field_id, season, dug_at, teaches: event.is_some() }
    }
}
