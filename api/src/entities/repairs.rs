//! Rows of `repairs`. What was mended on a planter. Kept, never changed.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "repairs")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub planter_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub item: String,
    #[sea_orm(column_type = "JsonBinary")]
    pub rows: Json,
    pub repaired_on: Date,
    pub new_part: bool,
    #[sea_orm(column_type = "Text", nullable)]
    pub notes: Option<String>,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    pub cost_amount: Option<f64>,
    #[sea_orm(column_type = "Text", nullable)]
    pub cost_currency: Option<String>,
}

impl ActiveModelBehavior for ActiveModel {}
