//! Rows of `attention_limits`. When something needs somebody, where a practice says so itself.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "attention_limits")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    pub sheet_unseen_hours: i32,
    pub dig_after_planting_hours: i32,
    pub dig_after_seen_days: i32,
    pub conditions_days: i32,
    pub calibration_months: i32,
    pub inspection_days: i32,
    #[sea_orm(column_type = "Text")]
    pub planting_begins: String,
    pub version: i32,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
