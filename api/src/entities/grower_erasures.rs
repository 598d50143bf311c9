//! Rows of `grower_erasures`. When and why the personal data of a grower was erased.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "grower_erasures")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub grower_id: Uuid,
    pub erased_at: DateTimeUtc,
    pub erased_by: Uuid,
    #[sea_orm(column_type = "Text")]
    pub reason: String,
    /// What was deleted, what is kept without names, and why.
    #[sea_orm(column_type = "JsonBinary")]
    pub report: Json,
}

impl ActiveModelBehavior for ActiveModel {}
