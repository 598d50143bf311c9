//! Rows of `calendar_entries`. What a calendar feed showed last, and how often it changed.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "calendar_entries")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub feed_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub entry_key: String,
    pub due_on: Date,
    pub sequence: i32,
    #[sea_orm(column_type = "Text")]
    pub fingerprint: String,
    pub changed_at: DateTimeUtc,
    pub dropped_at: Option<DateTimeUtc>,
}

impl ActiveModelBehavior for ActiveModel {}
