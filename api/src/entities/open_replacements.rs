//! Rows of `open_replacements`. What inspections found worn out and nobody has mended since.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "open_replacements")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub planter_id: Uuid,
    pub inspection_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub item: String,
    #[sea_orm(column_type = "JsonBinary")]
    pub rows: Json,
    pub since: Date,
}

impl ActiveModelBehavior for ActiveModel {}
