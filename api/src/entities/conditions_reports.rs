//! Rows of `conditions_reports`. What was seen in a field before planting.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "conditions_reports")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub field_id: Uuid,
    pub observed_at: DateTimeUtc,
    #[sea_orm(column_type = "JsonBinary")]
    pub observations: Json,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
}

impl ActiveModelBehavior for ActiveModel {}
