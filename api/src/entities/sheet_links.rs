//! Rows of `sheet_links`. Addresses that show one sheet to whoever holds them.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "sheet_links")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub recommendation_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub secret_hash: String,
    pub created_at: DateTimeUtc,
    pub expires_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
