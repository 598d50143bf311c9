//! Rows of `fields`. The fields of a farm.

use sea_orm::entity::prelude::*;

use crate::v1::fields::texture::TextureClass;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "fields")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub farm_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub name: String,
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub boundary: Option<Json>,
    pub area_m2: Option<f64>,
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub entered_area: Option<Json>,
    pub texture_class: Option<TextureClass>,
    #[sea_orm(column_type = "Text", nullable)]
    pub notes: Option<String>,
    pub version: i32,
    pub created_at: DateTimeUtc,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
