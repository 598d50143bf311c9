//! Rows of `stand_counts`. What was counted after emergence.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "stand_counts")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub field_id: Uuid,
    pub planting_id: Uuid,
    pub counted_on: Date,
    #[sea_orm(column_type = "JsonBinary")]
    pub observation: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub result: Json,
    #[sea_orm(column_type = "Text")]
    pub fingerprint: String,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
}

impl ActiveModelBehavior for ActiveModel {}
