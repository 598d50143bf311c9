//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::makeup::Makeup;
use crate::entities::planters;
use crate::http::page::Total;
use crate::http::patch::present;
use crate::http::{ApiError, Refused, text};

/// A new planter.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "name": "The eight-row",
    "makeup": {
        "rows": 8,
        "row_width": {"value": 30, "unit": "[in_i]"},
        "tyre_rows": [3, 6],
        "unit": {
            "hopper": {"kind": "per_row", "volume": {"value": 1.6, "unit": "[bu_us]"}},
            "opener": {"new_diameter": {"value": 15, "unit": "[in_i]"}},
            "cleaner": "floating",
            "closing": "rubber"
        },
        "down_force": {"kind": "air_bag"}
    }
})))]
pub struct PlanterIn {
    /// The grower whose planter it is.
    pub grower_id: Uuid,
    /// Name, unique among the planters of the grower.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "The eight-row",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// What it is made of.
    pub makeup: Makeup,
}

impl PlanterIn {
    /// The only way from the wire to the store: grower, name and a makeup that holds together.
    pub(super) fn parse(self) -> Result<(Uuid, String, Makeup), ApiError> {
        let Self { grower_id, name, makeup } = self;
        let mut refused = Refused::default();
        let name = refused.take(text::name("/name", &name));
        let planter = refused.take_all(makeup.parse("/makeup", None));
        match (name, planter) {
            (Some(name), Some(_)) => Ok((grower_id, name, makeup)),
            _ => Err(refused.into()),
        }
    }
}

/// Changes to a planter. What is absent stays; a makeup is exchanged as a whole.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"name": "The old eight-row"})))]
pub struct PlanterPatch {
    /// Name, unique among the planters of the grower.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "The old eight-row",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
    /// What it is made of now.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub makeup: Option<Makeup>,
}

impl PlanterPatch {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<(Option<String>, Option<Makeup>), ApiError> {
        let Self { name, makeup } = self;
        let mut refused = Refused::default();
        let name = name.and_then(|given| refused.take(text::name("/name", &given)));
        if let Some(makeup) = &makeup {
            refused.take_all(makeup.parse("/makeup", None));
        }
        refused.finish()?;
        Ok((name, makeup))
    }
}

/// A planter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000005",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "name": "The eight-row",
    "makeup": {
        "rows": 8,
        "row_width": {"value": 30, "unit": "[in_i]"},
        "tyre_rows": [3, 6],
        "unit": {
            "hopper": {"kind": "per_row", "volume": {"value": 1.6, "unit": "[bu_us]"}},
            "opener": {"new_diameter": {"value": 15, "unit": "[in_i]"}},
            "cleaner": "floating",
            "closing": "rubber"
        },
        "down_force": {"kind": "air_bag"}
    },
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct Planter {
    /// Id of the planter.
    pub id: Uuid,
    /// The grower whose planter it is.
    pub grower_id: Uuid,
    /// Name, unique among the planters of the grower.
    #[schema(example = "The eight-row")]
    pub name: String,
    /// What it is made of, as it was entered.
    pub makeup: Makeup,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the planter was made.
    pub created_at: DateTime<Utc>,
    /// When the planter was last changed.
    pub updated_at: DateTime<Utc>,
}

impl Planter {
    /// A row as it goes out.
    pub fn show(row: planters::Model) -> Result<Self, ApiError> {
        let planters::Model {
            practice_id: _,
            id,
            grower_id,
            name,
            makeup,
            version,
            created_at,
            updated_at,
        } = row;
        let makeup = serde_json::from_value(makeup).map_err(ApiError::internal)?;
        Ok(Self { id, grower_id, name, makeup, version, created_at, updated_at })
    }
}

/// A page of planters.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000005",
        "grower_id": "01964f1e-6a00-7000-8000-000000000002",
        "name": "The eight-row",
        "makeup": {
            "rows": 8,
            "row_width": {"value": 30, "unit": "[in_i]"},
            "unit": {
                "hopper": {"kind": "central"},
                "opener": {"new_diameter": {"value": 15, "unit": "[in_i]"}},
                "cleaner": "none",
                "closing": "rubber"
            },
            "down_force": {"kind": "weight_only"}
        },
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    }]
})))]
pub struct PlanterPage {
    /// The planters of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Planter>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which planters.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct PlanterFilter {
    /// Only those whose name begins so; A to Z and a to z are the same.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120, example = "mil")]
    pub name: Option<String>,
    /// Only the planters of this grower.
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
