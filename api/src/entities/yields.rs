//! Rows of `yields`. What was harvested from a field.

use sea_orm::entity::prelude::*;

use super::plantings::Crop;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "yields")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub field_id: Uuid,
    pub harvested_on: Date,
    pub crop: Crop,
    /// Grain without any water, on an area.
    pub dry_kg_m2: f64,
    pub area_m2: Option<f64>,
    #[sea_orm(column_type = "JsonBinary")]
    pub entered: Json,
    #[sea_orm(column_type = "Text", nullable)]
    pub note: Option<String>,
    #[sea_orm(column_type = "Text")]
    pub fingerprint: String,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    pub updated_at: DateTimeUtc,
    pub version: i32,
}

impl ActiveModelBehavior for ActiveModel {}
