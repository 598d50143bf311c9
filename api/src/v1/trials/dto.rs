//! A trial over the wire, and pages of them.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::design::TrialDesign;
use super::laid_out::TrialLayout;
use super::replications::Replications;
use super::store;
use super::words::TrialStatus;
use crate::entities::trials;
use crate::http::ApiError;
use crate::http::page::{Asked, Total};
use crate::http::patch::present;

/// A new trial.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "field_id": "01964f1e-6a00-7000-8000-000000000011",
    "planter_id": "01964f1e-6a00-7000-8000-000000000012",
    "name": "Spiked wheels on two rows",
    "design": {
        "crop": "corn",
        "trying": "closing_wheel",
        "treatments": [{"name": "smooth wheels", "control": true}, {"name": "spiked wheels"}],
        "way": {"kind": "planter_rows", "rows_each": 2},
        "blocks": 5,
        "responses": [{"kind": "emergence", "matters": 3, "spread": 2.5}, {"kind": "furrow_closed"}]
    }
})))]
pub struct TrialIn {
    /// The field.
    pub field_id: Uuid,
    /// The planter, of the same grower.
    pub planter_id: Uuid,
    /// Name.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "Spiked wheels on two rows",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// What is compared, how it is laid out, what is measured.
    pub design: TrialDesign,
}

/// Changes to a draft. What is absent stays; a design is exchanged as a whole.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"name": "Spiked wheels, second try"})))]
pub struct TrialPatch {
    /// Name.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "Spiked wheels, second try",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
    /// The new design. It keeps the seed of the one before where it names none.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub design: Option<TrialDesign>,
}

/// A trial: what is compared, and what lies where.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!(super::example::trial())))]
pub struct Trial {
    /// Id of the trial.
    pub id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// Name.
    #[schema(example = "Spiked wheels on two rows")]
    pub name: String,
    /// Where it stands.
    pub status: TrialStatus,
    /// What is compared, how it is laid out, what is measured; with units and seed, where they were
    /// left open.
    pub design: TrialDesign,
    /// What lies where.
    pub layout: TrialLayout,
    /// For each response with `matters` and `spread`: what so many blocks can show, and how many
    /// would be needed.
    #[schema(max_items = 8)]
    pub replications: Vec<Replications>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When it was made.
    pub created_at: DateTime<Utc>,
    /// Account of whoever made it.
    pub created_by: Uuid,
    /// When it was made, changed or went to another status.
    pub updated_at: DateTime<Utc>,
    /// When the layout was frozen.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub started_at: Option<DateTime<Utc>>,
    /// When it was closed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub closed_at: Option<DateTime<Utc>>,
}

impl Trial {
    /// The answer for a row.
    pub(in crate::v1) fn of(row: trials::Model) -> Result<Self, ApiError> {
        let design = store::design_of(&row)?;
        let layout = store::layout_of(&row)?;
        let replications = store::replications_of(&row)?;
        Ok(Self {
            id: row.id,
            field_id: row.field_id,
            planter_id: row.planter_id,
            name: row.name,
            status: row.status.into(),
            replications,
            layout: TrialLayout::of(layout, &design),
            design,
            version: row.version,
            created_at: row.created_at,
            created_by: row.created_by,
            updated_at: row.updated_at,
            started_at: row.started_at,
            closed_at: row.closed_at,
        })
    }
}

/// A page of trials.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [super::example::trial()]})))]
pub struct TrialPage {
    /// The trials of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Trial>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which trials.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct TrialFilter {
    /// Only in the fields of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Only in this field.
    #[serde(default)]
    #[param(nullable = false)]
    pub field_id: Option<Uuid>,
    /// Only of this planter.
    #[serde(default)]
    #[param(nullable = false)]
    pub planter_id: Option<Uuid>,
    /// Only of this status.
    #[serde(default)]
    #[param(nullable = false, inline, example = "running")]
    pub status: Option<TrialStatus>,
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

impl From<&TrialFilter> for Asked {
    fn from(filter: &TrialFilter) -> Self {
        let TrialFilter { limit, cursor, updated_since, count, .. } = filter;
        Self { limit: *limit, cursor: cursor.clone(), updated_since: *updated_since, count: *count }
    }
}
