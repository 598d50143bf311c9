//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use domain::quantity::{ArealMassDensity, Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::water::Entered;
pub use super::water::GrainBasis;
use crate::entities::yields;
use crate::http::page::{Asked, Total};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, Patch};
use crate::v1::conditions::Crop;
use crate::v1::units::Units;

/// What was harvested.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = GrainYieldIn, examples(json!({
    "harvested_on": "2026-10-12",
    "crop": "corn",
    "grain": {"value": 11200, "unit": "[lb_av]/[acr_us]"},
    "basis": "at_moisture",
    "moisture": {"value": 18.2, "unit": "%"}
})))]
pub struct YieldIn {
    /// The day on which most of it was harvested; from 2000 on, and not in the future.
    #[schema(example = "2026-10-12")]
    pub harvested_on: NaiveDate,
    /// The crop.
    pub crop: Crop,
    /// Grain on an area, a mean over what was harvested. Bound: `grain_yield`.
    pub grain: Quantity,
    /// How much water `grain` counts.
    pub basis: GrainBasis,
    /// Water in the grain that `grain` counts, by wet weight; with `at_moisture` only, and needed
    /// there. Bound: `grain_moisture`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub moisture: Option<Quantity>,
    /// Area that was harvested. Bound: `field_area`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// A note.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "The east end was flooded in June.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub note: Option<String>,
}

/// Changes to a yield. What is absent stays; `null` empties.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = GrainYieldPatch, examples(json!({"moisture": {"value": 17.8, "unit": "%"}, "note": null})))]
pub struct YieldPatch {
    /// The day on which most of it was harvested; from 2000 on, and not in the future.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = "2026-10-12")]
    pub harvested_on: Option<NaiveDate>,
    /// The crop.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub crop: Option<Crop>,
    /// Grain on an area. Bound: `grain_yield`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub grain: Option<Quantity>,
    /// How much water `grain` counts.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub basis: Option<GrainBasis>,
    /// Water in the grain that `grain` counts, by wet weight. Bound: `grain_moisture`.
    #[serde(default)]
    #[schema(value_type = Option<Quantity>)]
    pub moisture: Patch<Quantity>,
    /// Area that was harvested. Bound: `field_area`.
    #[serde(default)]
    #[schema(value_type = Option<Quantity>)]
    pub area: Patch<Quantity>,
    /// A note.
    #[serde(default)]
    #[schema(value_type = Option<String>, max_length = 4000,
        example = "The east end was flooded in June.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$")]
    pub note: Patch<String>,
}

/// The yield of a field.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = GrainYield, examples(json!(example())))]
pub struct Yield {
    /// Id of the yield.
    pub id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The day of harvest.
    #[schema(example = "2026-10-12")]
    pub harvested_on: NaiveDate,
    /// The crop.
    pub crop: Crop,
    /// Grain on an area, as entered.
    pub grain: Quantity,
    /// How much water `grain` counts.
    pub basis: GrainBasis,
    /// Water in the grain that `grain` counts, as entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub moisture: Option<Quantity>,
    /// The same grain without any water, in the caller's units.
    pub dry: Quantity,
    /// Area that was harvested, as entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// A note.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "The east end was flooded in June.")]
    pub note: Option<String>,
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

impl Yield {
    /// A row as it goes out, with computed values in `units`.
    pub fn show(row: yields::Model, units: Units) -> Result<Self, ApiError> {
        let yields::Model {
            practice_id: _,
            id,
            field_id,
            harvested_on,
            crop,
            dry_kg_m2,
            area_m2: _,
            entered,
            note,
            fingerprint: _,
            created_at,
            created_by,
            updated_at,
            version,
        } = row;
        let Entered { grain, basis, moisture, area } =
            serde_json::from_value(entered).map_err(ApiError::internal)?;
        let dry = ArealMassDensity::from_si(dry_kg_m2);
        Ok(Self {
            id,
            field_id,
            harvested_on,
            crop: domain::conditions::Crop::from(crop).into(),
            grain,
            basis,
            moisture,
            dry: Quantity::show(&bounds::GRAIN_YIELD, dry, units.into()),
            area,
            note,
            created_at,
            created_by,
            updated_at,
            version,
        })
    }
}

/// A yield for the document.
fn example() -> serde_json::Value {
    serde_json::json!({
        "id": "01964f1e-6a00-7000-8000-000000000071",
        "field_id": "01964f1e-6a00-7000-8000-000000000004",
        "harvested_on": "2026-10-12",
        "crop": "corn",
        "grain": {"value": 11200, "unit": "[lb_av]/[acr_us]"},
        "basis": "at_moisture",
        "moisture": {"value": 18.2, "unit": "%"},
        "dry": {"value": 9161.6, "unit": "[lb_av]/[acr_us]"},
        "created_at": "2026-10-13T08:10:00Z",
        "created_by": "01964f1e-6a00-7000-8000-000000000003",
        "updated_at": "2026-10-13T08:10:00Z",
        "version": 1
    })
}

/// A page of yields.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = GrainYieldPage, examples(json!({"items": [example()]})))]
pub struct YieldPage {
    /// The yields of this page, in the order in which they were entered.
    #[schema(max_items = 200)]
    pub items: Vec<Yield>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which yields.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct YieldFilter {
    /// Only of the fields of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Only of this field.
    #[serde(default)]
    #[param(nullable = false)]
    pub field_id: Option<Uuid>,
    /// Only of this crop.
    #[serde(default)]
    #[param(nullable = false, inline, example = "corn")]
    pub crop: Option<Crop>,
    /// Only those harvested on this day or later.
    #[serde(default)]
    #[param(nullable = false, example = "2026-09-01")]
    pub harvested_from: Option<NaiveDate>,
    /// Only those harvested on this day or earlier.
    #[serde(default)]
    #[param(nullable = false, example = "2026-12-31")]
    pub harvested_to: Option<NaiveDate>,
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

impl From<YieldFilter> for Asked {
    fn from(filter: YieldFilter) -> Self {
        let YieldFilter { limit, cursor, updated_since, count, .. } = filter;
        Self { limit, cursor, updated_since, count }
    }
}
