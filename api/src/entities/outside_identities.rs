//! Rows of `outside_identities`. Who an account is at an outside issuer.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "outside_identities")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub issuer: String,
    #[sea_orm(column_type = "Text")]
    pub subject: String,
    pub account_id: Uuid,
    pub created_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
