//! Rows of `attention_marks`. What people say about an entry of the attention list: later, or who.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "attention_marks")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub entry_key: String,
    pub grower_id: Option<Uuid>,
    pub snoozed_until: Option<Date>,
    #[sea_orm(column_type = "Text", nullable)]
    pub snooze_reason: Option<String>,
    pub snoozed_at: Option<DateTimeUtc>,
    pub snoozed_by: Option<Uuid>,
    pub assigned_to: Option<Uuid>,
    pub assigned_at: Option<DateTimeUtc>,
    pub assigned_by: Option<Uuid>,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
