//! What goes over the wire.

use chrono::{DateTime, Utc};
use domain::planter::inspection::ITEMS;
use domain::quantity::System;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use super::limit_out::LimitOut;
use super::store::InForce;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::inspections::InspectionItemCode;
use crate::v1::inspections::shed::Shed;

/// What the manual of a planter says of its parts. It takes the place of all that was entered before.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "blade_thickness": {"value": 3.5, "unit": "mm"},
    "parts": [
        {"item": "opener_diameter", "replace_at": {"value": 14.4, "unit": "[in_i]"},
         "price_each": 41.5, "source": "manual, page 88"},
        {"item": "coulter_diameter", "new_size": {"value": 17, "unit": "[in_i]"},
         "replace_at": {"value": 16, "unit": "[in_i]"}}
    ],
    "currency": "USD"
})))]
pub struct WearLimitsIn {
    /// Thickness of the blade of the opener discs: the contact length that is wanted goes by it.
    /// Bound: `blade_thickness`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub blade_thickness: Option<Quantity>,
    /// The parts, each item once.
    #[serde(default)]
    #[schema(max_items = 100)]
    pub parts: Vec<PartLimitIn>,
    /// Currency of the prices (ISO 4217); needed where there is a price.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        pattern = "^[A-Z]{3}$",
        min_length = 3,
        max_length = 3,
        example = "USD"
    )]
    pub currency: Option<String>,
}

/// What the manual says of one part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "item": "coulter_diameter", "new_size": {"value": 17, "unit": "[in_i]"},
    "replace_at": {"value": 16, "unit": "[in_i]"}, "price_each": 62, "source": "manual, page 90"
})))]
pub struct PartLimitIn {
    /// The item. Limits and sizes are for items that are measured and wear; a price may stand at any.
    pub item: InspectionItemCode,
    /// Size when new. That of the opener discs stands in the make-up of the planter.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub new_size: Option<Quantity>,
    /// Where to begin to watch it; when absent, where a quarter of the wear it may have is left.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub watch_at: Option<Quantity>,
    /// Where to replace it. A part that is just there is replaced.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub replace_at: Option<Quantity>,
    /// Price of one part, or of having it done on one row.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 100_000, example = 41.5)]
    pub price_each: Option<f64>,
    /// Where it stands.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 200,
        example = "manual, page 88",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub source: Option<String>,
}

/// What the manual says, and the limits that count.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "planter_id": "01964f1e-6a00-7000-8000-000000000005",
    "entered": {"blade_thickness": {"value": 3.5, "unit": "mm"}, "parts": []},
    "in_force": [],
    "without_limit": ["coulter_diameter"],
    "version": 1,
    "set_at": "2027-03-12T15:00:00Z",
    "set_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct WearLimits {
    /// The planter.
    pub planter_id: Uuid,
    /// What was entered, as it was entered.
    pub entered: WearLimitsIn,
    /// The limit that counts for each item that is measured, with its source and what other sources
    /// say.
    #[schema(max_items = 100)]
    pub in_force: Vec<LimitOut>,
    /// Items of the planter that can be measured, but of which no limit is known: no figure holds for
    /// all makes, so enter that of the manual.
    #[schema(max_items = 100, example = json!(["coulter_diameter"]))]
    pub without_limit: Vec<InspectionItemCode>,
    /// Counts the changes; 0 where nobody entered anything. Also in the header `ETag`.
    #[schema(minimum = 0, example = 1)]
    pub version: i32,
    /// When it was entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub set_at: Option<DateTime<Utc>>,
    /// Account that entered it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub set_by: Option<Uuid>,
}

impl WearLimits {
    /// The answer for a planter.
    pub(super) fn of(planter_id: Uuid, entered: InForce, shed: &Shed, system: System) -> Self {
        let own = ITEMS.iter().filter(|item| item.needs.has(&shed.planter));
        let measured = own.filter(|item| item.measure.is_some());
        let (mut in_force, mut without_limit) = (Vec::new(), Vec::new());
        for item in measured {
            match LimitOut::of(item, shed, system) {
                Some(limit) => in_force.push(limit),
                None => without_limit.push(item.code.into()),
            }
        }
        let InForce { entered, version, set } = entered;
        Self {
            planter_id,
            entered,
            in_force,
            without_limit,
            version,
            set_at: set.map(|(at, _)| at),
            set_by: set.map(|(_, by)| by),
        }
    }
}
