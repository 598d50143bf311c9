//! Fields as GeoJSON (RFC 7946).

use std::collections::HashMap;

use actix_web::web::{Bytes, Data};
use chrono::{DateTime, Utc};
use futures_util::Stream;
use futures_util::stream::try_unfold;
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder, QuerySelect, Select};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::external::{ExternalIds, IdElsewhere};
use super::rings::oriented;
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::{farms, fields, growers};
use crate::http::ApiError;
use crate::http::quantity::Quantity;
use crate::v1::fields::Boundary;
use crate::v1::fields::TextureClass;
use crate::v1::fields::dto::{AreaFrom, Field};
use crate::v1::units::Units;

/// Fields that are read at once.
const AT_ONCE: u64 = 200;

/// The one type of a feature.
#[derive(Debug, Clone, Copy, Serialize, ToSchema)]
#[schema(example = "Feature")]
pub enum TypeFeature {
    /// A feature.
    Feature,
}

/// The one type of a collection of features.
#[derive(Debug, Clone, Copy, Serialize, ToSchema)]
#[schema(example = "FeatureCollection")]
pub enum TypeFeatureCollection {
    /// A collection of features.
    FeatureCollection,
}

/// What is known of a field beside its boundary.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "North forty",
    "farm_id": "01964f1e-6a00-7000-8000-000000000003", "farm": "Home farm",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002", "grower": "Miller Brothers",
    "area": {"value": 40, "unit": "[acr_us]"}, "area_from": "entered", "texture_class": "silt_loam",
    "external_ids": [{"system": "records", "their_id": "F-1042"}],
    "version": 1, "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct FieldProperties {
    /// Name of the field.
    #[schema(example = "North forty")]
    pub name: String,
    /// The farm.
    pub farm_id: Uuid,
    /// Name of the farm.
    #[schema(example = "Home farm")]
    pub farm: String,
    /// The grower.
    pub grower_id: Uuid,
    /// Name of the grower.
    #[schema(example = "Miller Brothers")]
    pub grower: String,
    /// The area that is worked with: the entered one, else that inside the boundary.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Where the area comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area_from: Option<AreaFrom>,
    /// Texture class of the topsoil.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub texture_class: Option<TextureClass>,
    /// What records systems call the field.
    #[schema(max_items = 1000)]
    pub external_ids: Vec<IdElsewhere>,
    /// Counts the changes.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the field was last changed.
    pub updated_at: DateTime<Utc>,
}

/// A field as a GeoJSON feature.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "type": "Feature",
    "id": "01964f1e-6a00-7000-8000-000000000004",
    "geometry": {"type": "Polygon", "coordinates": [[
        [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
    ]]},
    "properties": {
        "name": "North forty",
        "farm_id": "01964f1e-6a00-7000-8000-000000000003", "farm": "Home farm",
        "grower_id": "01964f1e-6a00-7000-8000-000000000002", "grower": "Miller Brothers",
        "external_ids": [], "version": 1, "updated_at": "2027-04-20T12:00:00Z"
    }
})))]
pub struct FeatureOfField {
    /// `Feature`.
    #[serde(rename = "type")]
    pub kind: TypeFeature,
    /// Id of the field.
    pub id: Uuid,
    /// The boundary, outer rings against the clock; null where nobody drew one.
    #[schema(value_type = Option<Boundary>)]
    pub geometry: Option<Boundary>,
    /// What is known of it.
    pub properties: FieldProperties,
}

/// Fields as a GeoJSON feature collection.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"type": "FeatureCollection", "features": []})))]
pub struct FeaturesOfFields {
    /// `FeatureCollection`.
    #[serde(rename = "type")]
    pub kind: TypeFeatureCollection,
    /// The fields, oldest first.
    #[schema(max_items = 1_000_000)]
    pub features: Vec<FeatureOfField>,
}

/// Which fields.
#[derive(Debug, Clone, Copy)]
pub struct Which {
    /// What the caller sees.
    pub scope: Scope,
    /// Only of this farm.
    pub farm_id: Option<Uuid>,
    /// Only of this grower.
    pub grower_id: Option<Uuid>,
    /// Units of areas.
    pub units: Units,
}

impl Which {
    fn rows(&self) -> Select<fields::Entity> {
        let mut rows = self.scope.fields();
        if let Some(farm) = self.farm_id {
            rows = rows.filter(fields::Column::FarmId.eq(farm));
        }
        if let Some(grower) = self.grower_id {
            rows = rows.filter(fields::Column::Id.in_subquery(self.scope.field_ids_of(grower)));
        }
        rows
    }

    /// Some fields as features, in the order in which they are given.
    pub async fn features(
        &self,
        db: &impl ConnectionTrait,
        rows: Vec<fields::Model>,
    ) -> Result<Vec<FeatureOfField>, ApiError> {
        let ids: Vec<Uuid> = rows.iter().map(|it| it.id).collect();
        let external = ExternalIds::read(db, self.scope.practice_id, &ids).await?;
        let farms: HashMap<Uuid, farms::Model> = self
            .scope
            .farms()
            .filter(farms::Column::Id.is_in(rows.iter().map(|it| it.farm_id)))
            .all(db)
            .await?
            .into_iter()
            .map(|it| (it.id, it))
            .collect();
        let growers: HashMap<Uuid, growers::Model> = self
            .scope
            .growers()
            .filter(growers::Column::Id.is_in(farms.values().map(|it| it.grower_id)))
            .all(db)
            .await?
            .into_iter()
            .map(|it| (it.id, it))
            .collect();
        let mut features = Vec::new();
        for row in rows {
            // Deleted between the queries.
            let Some(farm) = farms.get(&row.farm_id) else { continue };
            let Some(grower) = growers.get(&farm.grower_id) else { continue };
            features.push(feature(row, farm, grower, &external, self.units)?);
        }
        Ok(features)
    }
}

fn feature(
    row: fields::Model,
    farm: &farms::Model,
    grower: &growers::Model,
    external: &ExternalIds,
    units: Units,
) -> Result<FeatureOfField, ApiError> {
    let external_ids = external.of(row.id).cloned().collect();
    let field = Field::show(row, units)?;
    Ok(FeatureOfField {
        kind: TypeFeature::Feature,
        id: field.id,
        geometry: field.boundary.map(oriented),
        properties: FieldProperties {
            name: field.name,
            farm_id: farm.id,
            farm: farm.name.clone(),
            grower_id: grower.id,
            grower: grower.name.clone(),
            area: field.area,
            area_from: field.area_from,
            texture_class: field.texture_class,
            external_ids,
            version: field.version,
            updated_at: field.updated_at,
        },
    })
}

/// A feature collection that is being written.
struct Collection {
    app: Data<AppState>,
    which: Which,
    after: Uuid,
    part: Part,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    /// No feature yet.
    Empty,
    More,
    Done,
}

/// All the fields asked for, a few hundred in memory at a time. What fails before the first of them fails
/// here.
pub async fn collection(
    app: Data<AppState>,
    which: Which,
) -> Result<impl Stream<Item = Result<Bytes, ApiError>>, ApiError> {
    let begun = Collection { app, which, after: Uuid::nil(), part: Part::Empty };
    let first = begun.next().await?;
    Ok(try_unfold(first, |next| async move {
        let Some((bytes, rest)) = next else { return Ok(None) };
        Ok(Some((bytes, rest.next().await?)))
    }))
}

impl Collection {
    async fn next(mut self) -> Result<Option<(Bytes, Self)>, ApiError> {
        if self.part == Part::Done {
            return Ok(None);
        }
        let rows = self
            .which
            .rows()
            .filter(fields::Column::Id.gt(self.after))
            .order_by_asc(fields::Column::Id)
            .limit(AT_ONCE)
            .all(&self.app.db)
            .await?;
        let mut text = Vec::new();
        if self.after.is_nil() {
            text.extend_from_slice(b"{\"type\":\"FeatureCollection\",\"features\":[");
        }
        let full = u64::try_from(rows.len()).is_ok_and(|count| count >= AT_ONCE);
        let last = rows.last().map(|it| it.id);
        for feature in self.which.features(&self.app.db, rows).await? {
            if self.part == Part::More {
                text.push(b',');
            }
            self.part = Part::More;
            serde_json::to_writer(&mut text, &feature).map_err(ApiError::internal)?;
        }
        if let Some(last) = last.filter(|_| full) {
            self.after = last;
        } else {
            text.extend_from_slice(b"]}");
            self.part = Part::Done;
        }
        Ok(Some((text.into(), self)))
    }
}
