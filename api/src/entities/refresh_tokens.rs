//! Rows of `refresh_tokens`. The chain of tokens that keeps a session going.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "refresh_tokens")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub session_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub token_hash: String,
    pub created_at: DateTimeUtc,
    pub used_at: Option<DateTimeUtc>,
    #[sea_orm(column_type = "Text", nullable)]
    pub salt: Option<String>,
}

impl ActiveModelBehavior for ActiveModel {}
