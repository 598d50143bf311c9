//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use domain::quantity::{Area, Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::notices::PlantingNotice;
use super::store::Entered;
use crate::entities::plantings;
use crate::http::page::{Asked, Total};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, Patch};
use crate::v1::conditions::Crop;
use crate::v1::cost::Cost;
use crate::v1::units::Units;

/// What was planted.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "planter_id": "01964f1e-6a00-7000-8000-000000000005",
    "planted_on": "2027-04-19",
    "crop": "corn",
    "seeds": {"value": 34000, "unit": "1/[acr_us]"},
    "depth": {"value": 2, "unit": "[in_i]"},
    "hours": 3.5,
    "cost": {"amount": 5230, "currency": "USD"}
})))]
pub struct PlantingIn {
    /// The planter; one of the grower of the field.
    pub planter_id: Uuid,
    /// The day on which most of it was planted; from 2000 on, and not in the future.
    #[schema(example = "2027-04-29")]
    pub planted_on: NaiveDate,
    /// The crop.
    pub crop: Crop,
    /// The recommendation that was followed: one that was issued for this field and this planter.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub recommendation_id: Option<Uuid>,
    /// Seeds planted on an area. Bound: `seed_population`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seeds: Option<Quantity>,
    /// Depth of the seed. Bound: `planting_depth`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub depth: Option<Quantity>,
    /// Area that was planted; that of the field when absent. Bound: `field_area`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Hours that it took.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.1, maximum = 1000, example = 3.5)]
    pub hours: Option<f64>,
    /// What it cost: seed, trip and work.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cost: Option<Cost>,
    /// A note.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Rain stopped us at noon; the rest the day after.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub note: Option<String>,
}

/// Changes to a planting. What is absent stays; `null` empties.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"planted_on": "2027-04-18", "hours": null})))]
pub struct PlantingPatch {
    /// The planter; one of the grower of the field.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub planter_id: Option<Uuid>,
    /// The day on which most of it was planted; from 2000 on, and not in the future.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = "2027-04-29")]
    pub planted_on: Option<NaiveDate>,
    /// The crop.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub crop: Option<Crop>,
    /// The recommendation that was followed: one that was issued for this field and this planter.
    #[serde(default)]
    #[schema(value_type = Option<Uuid>)]
    pub recommendation_id: Patch<Uuid>,
    /// Seeds planted on an area. Bound: `seed_population`.
    #[serde(default)]
    #[schema(value_type = Option<Quantity>)]
    pub seeds: Patch<Quantity>,
    /// Depth of the seed. Bound: `planting_depth`.
    #[serde(default)]
    #[schema(value_type = Option<Quantity>)]
    pub depth: Patch<Quantity>,
    /// Area that was planted; that of the field when `null`. Bound: `field_area`.
    #[serde(default)]
    #[schema(value_type = Option<Quantity>)]
    pub area: Patch<Quantity>,
    /// Hours that it took.
    #[serde(default)]
    #[schema(value_type = Option<f64>, minimum = 0.1, maximum = 1000, example = 3.5)]
    pub hours: Patch<f64>,
    /// What it cost: seed, trip and work.
    #[serde(default)]
    #[schema(value_type = Option<Cost>)]
    pub cost: Patch<Cost>,
    /// A note.
    #[serde(default)]
    #[schema(value_type = Option<String>, max_length = 4000,
        example = "Rain stopped us at noon; the rest the day after.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$")]
    pub note: Patch<String>,
}

/// Where the area of a planting comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PlantedAreaFrom {
    /// It was entered with the planting.
    Entered,
    /// It is that of the field, as it was when the planting was entered.
    Field,
}

/// A planting.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub struct Planting {
    /// Id of the planting.
    pub id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The recommendation that was followed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub recommendation_id: Option<Uuid>,
    /// The day of planting.
    #[schema(example = "2027-04-29")]
    pub planted_on: NaiveDate,
    /// The crop.
    pub crop: Crop,
    /// Seeds planted on an area, as entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seeds: Option<Quantity>,
    /// Depth of the seed, as entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub depth: Option<Quantity>,
    /// Area that was planted; absent where neither it nor that of the field is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Where `area` comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area_from: Option<PlantedAreaFrom>,
    /// Hours that it took.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 3.5)]
    pub hours: Option<f64>,
    /// What it cost: seed, trip and work.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cost: Option<Cost>,
    /// A note.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Rain stopped us at noon; the rest the day after.")]
    pub note: Option<String>,
    /// What is odd about it but possible.
    #[schema(max_items = 10)]
    pub notices: Vec<PlantingNotice>,
    /// When it was entered.
    pub created_at: DateTime<Utc>,
    /// Account that entered it.
    pub created_by: Uuid,
    /// When it was last changed.
    pub updated_at: DateTime<Utc>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
}

impl Planting {
    /// A row as it goes out, with computed values in `units`.
    pub fn show(row: plantings::Model, units: Units) -> Result<Self, ApiError> {
        let plantings::Model {
            practice_id: _,
            id,
            field_id,
            planter_id,
            recommendation_id,
            planted_on,
            crop,
            area_m2,
            seeds_per_m2: _,
            depth_m: _,
            hours,
            entered,
            notices,
            need: _,
            note,
            fingerprint: _,
            created_at,
            created_by,
            updated_at,
            version,
            cost_amount,
            cost_currency,
        } = row;
        let Entered { seeds, depth, area } =
            serde_json::from_value(entered).map_err(ApiError::internal)?;
        let (area, area_from) = match (area, area_m2) {
            (Some(area), _) => (Some(area), Some(PlantedAreaFrom::Entered)),
            (None, Some(m2)) => {
                let shown = Quantity::show(&bounds::FIELD_AREA, Area::from_si(m2), units.into());
                (Some(shown), Some(PlantedAreaFrom::Field))
            }
            (None, None) => (None, None),
        };
        Ok(Self {
            id,
            field_id,
            planter_id,
            recommendation_id,
            planted_on,
            crop: domain::conditions::Crop::from(crop).into(),
            seeds,
            depth,
            area,
            area_from,
            hours,
            cost: Cost::of_columns(cost_amount, cost_currency),
            note,
            notices: serde_json::from_value(notices).map_err(ApiError::internal)?,
            created_at,
            created_by,
            updated_at,
            version,
        })
    }
}

/// A planting for the document.
fn example() -> serde_json::Value {
    serde_json::json!({
        "id": "01964f1e-6a00-7000-8000-000000000061",
        "field_id": "01964f1e-6a00-7000-8000-000000000004",
        "planter_id": "01964f1e-6a00-7000-8000-000000000005",
        "planted_on": "2027-04-29",
        "crop": "corn",
        "seeds": {"value": 34000, "unit": "1/[acr_us]"},
        "depth": {"value": 2, "unit": "[in_i]"},
        "area": {"value": 40, "unit": "[acr_us]"},
        "area_from": "field",
        "hours": 3.5,
        "notices": [],
        "created_at": "2027-04-29T22:10:00Z",
        "created_by": "01964f1e-6a00-7000-8000-000000000003",
        "updated_at": "2027-04-29T22:10:00Z",
        "version": 1
    })
}

/// A page of plantings.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [example()]})))]
pub struct PlantingPage {
    /// The plantings of this page, in the order in which they were entered.
    #[schema(max_items = 200)]
    pub items: Vec<Planting>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which plantings.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct PlantingFilter {
    /// Only in the fields of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Only in this field.
    #[serde(default)]
    #[param(nullable = false)]
    pub field_id: Option<Uuid>,
    /// Only with this planter.
    #[serde(default)]
    #[param(nullable = false)]
    pub planter_id: Option<Uuid>,
    /// Only of this crop.
    #[serde(default)]
    #[param(nullable = false, inline, example = "corn")]
    pub crop: Option<Crop>,
    /// Only those planted on this day or later.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-01")]
    pub planted_from: Option<NaiveDate>,
    /// Only those planted on this day or earlier.
    #[serde(default)]
    #[param(nullable = false, example = "2027-06-30")]
    pub planted_to: Option<NaiveDate>,
    /// Units of computed values; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub units: Option<Units>,
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

impl From<PlantingFilter> for Asked {
    fn from(filter: PlantingFilter) -> Self {
        let PlantingFilter { limit, cursor, updated_since, count, .. } = filter;
        Self { limit, cursor, updated_since, count }
    }
}

/// Which page of the plantings of a field.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct PlantingsOfField {
    /// Units of computed values; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub units: Option<Units>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
