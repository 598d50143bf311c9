//! What goes over the wire.

use chrono::{DateTime, Utc};
use domain::quantity::{Area, Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::boundary::Boundary;
use super::texture::TextureClass;
use crate::entities::fields;
use crate::http::page::Total;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, Patch};
use crate::v1::units::Units;

/// A new field. Give a boundary, an area, both or neither.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "farm_id": "01964f1e-6a00-7000-8000-000000000003",
    "name": "North forty",
    "boundary": {
        "type": "Polygon",
        "coordinates": [[
            [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
        ]]
    },
    "entered_area": {"value": 40, "unit": "[acr_us]"},
    "texture_class": "silt_loam"
})))]
pub struct FieldIn {
    /// The farm whose field it is.
    pub farm_id: Uuid,
    /// Name, unique among the fields of the farm.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "North forty",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Boundary on the ground.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub boundary: Option<Boundary>,
    /// Area as people know it, 0.01 to 20000 acres in any unit of area.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub entered_area: Option<Quantity>,
    /// Texture class of the topsoil, if it is much the same all over.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub texture_class: Option<TextureClass>,
    /// Notes of the advisor.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Wet corner in the east.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

/// Changes to a field. What is absent stays; `null` empties.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"entered_area": {"value": 38.5, "unit": "[acr_us]"}, "notes": null})))]
pub struct FieldPatch {
    /// Name, unique among the fields of the farm.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "North forty",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
    /// Boundary on the ground.
    #[serde(default)]
    #[schema(value_type = Option<Boundary>)]
    pub boundary: Patch<Boundary>,
    /// Area as people know it, 0.01 to 20000 acres in any unit of area.
    #[serde(default)]
    #[schema(value_type = Option<Quantity>)]
    pub entered_area: Patch<Quantity>,
    /// Texture class of the topsoil, if it is much the same all over.
    #[serde(default)]
    #[schema(value_type = Option<TextureClass>)]
    pub texture_class: Patch<TextureClass>,
    /// Notes of the advisor.
    #[serde(default)]
    #[schema(value_type = Option<String>, max_length = 4000, example = "Wet corner in the east.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$")]
    pub notes: Patch<String>,
}

/// Where the area that is worked with comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum AreaFrom {
    /// It was entered.
    Entered,
    /// It follows from the boundary.
    Boundary,
}

/// A field.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000004",
    "farm_id": "01964f1e-6a00-7000-8000-000000000003",
    "name": "North forty",
    "entered_area": {"value": 40, "unit": "[acr_us]"},
    "area": {"value": 40, "unit": "[acr_us]"},
    "area_from": "entered",
    "texture_class": "silt_loam",
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct Field {
    /// Id of the field.
    pub id: Uuid,
    /// The farm whose field it is.
    pub farm_id: Uuid,
    /// Name, unique among the fields of the farm.
    #[schema(example = "North forty")]
    pub name: String,
    /// Boundary on the ground, as it was entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub boundary: Option<Boundary>,
    /// Area inside the boundary on the ellipsoid of WGS 84, in the caller's units.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub boundary_area: Option<Quantity>,
    /// Area as it was entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub entered_area: Option<Quantity>,
    /// The area that is worked with: the entered one, else that of the boundary.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Where `area` comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area_from: Option<AreaFrom>,
    /// Texture class of the topsoil.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub texture_class: Option<TextureClass>,
    /// Notes of the advisor.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Wet corner in the east.")]
    pub notes: Option<String>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the field was made.
    pub created_at: DateTime<Utc>,
    /// When the field was last changed.
    pub updated_at: DateTime<Utc>,
}

impl Field {
    /// A row as it goes out, with computed values in `units`.
    pub fn show(row: fields::Model, units: Units) -> Result<Self, ApiError> {
        let fields::Model {
            practice_id: _,
            id,
            farm_id,
            name,
            boundary,
            area_m2,
            entered_area,
            texture_class,
            notes,
            version,
            created_at,
            updated_at,
        } = row;
        let boundary =
            boundary.map(serde_json::from_value).transpose().map_err(ApiError::internal)?;
        let entered_area: Option<Quantity> =
            entered_area.map(serde_json::from_value).transpose().map_err(ApiError::internal)?;
        let boundary_area = area_m2.map(|square_metres| {
            Quantity::show(&bounds::FIELD_AREA, Area::from_si(square_metres), units.into())
        });
        let area_from = match (&entered_area, &boundary_area) {
            (Some(_), _) => Some(AreaFrom::Entered),
            (None, Some(_)) => Some(AreaFrom::Boundary),
            (None, None) => None,
        };
        let area = entered_area.clone().or_else(|| boundary_area.clone());
        Ok(Self {
            id,
            farm_id,
            name,
            boundary,
            boundary_area,
            entered_area,
            area,
            area_from,
            texture_class,
            notes,
            version,
            created_at,
            updated_at,
        })
    }
}

/// A page of fields.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000004",
        "farm_id": "01964f1e-6a00-7000-8000-000000000003",
        "name": "North forty",
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    }]
})))]
pub struct FieldPage {
    /// The fields of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Field>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which fields.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct FieldFilter {
    /// Only those whose name begins so; A to Z and a to z are the same.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120, example = "mil")]
    pub name: Option<String>,
    /// Only the fields of this farm.
    #[serde(default)]
    #[param(nullable = false)]
    pub farm_id: Option<Uuid>,
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

/// Which fields as features.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct FeatureFilter {
    /// Only the fields of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Only the fields of this farm.
    #[serde(default)]
    #[param(nullable = false)]
    pub farm_id: Option<Uuid>,
    /// Units of areas; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub units: Option<Units>,
}
