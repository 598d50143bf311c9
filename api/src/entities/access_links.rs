//! Rows of `access_links`. Links that let a grower in without a password.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "access_links")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub grower_id: Uuid,
    pub made_by: Uuid,
    #[sea_orm(column_type = "Text")]
    pub token_hash: String,
    #[sea_orm(column_type = "Text", nullable)]
    pub note: Option<String>,
    pub single_use: bool,
    pub expires_at: DateTimeUtc,
    pub created_at: DateTimeUtc,
    pub last_used_at: Option<DateTimeUtc>,
    pub revoked_at: Option<DateTimeUtc>,
}

impl ActiveModelBehavior for ActiveModel {}
