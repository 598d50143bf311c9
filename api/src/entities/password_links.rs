//! Rows of `password_links`. One-time links that set a password.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "password_links")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub account_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub token_hash: String,
    pub created_at: DateTimeUtc,
    pub expires_at: DateTimeUtc,
    pub spent_at: Option<DateTimeUtc>,
}

impl ActiveModelBehavior for ActiveModel {}
