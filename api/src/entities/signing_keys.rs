//! Rows of `signing_keys`. Keys that sign access tokens.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "signing_keys")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false, column_type = "Text")]
    pub kid: String,
    #[sea_orm(column_type = "Text")]
    pub algorithm: String,
    #[sea_orm(column_type = "Text")]
    pub private_pem: String,
    pub created_at: DateTimeUtc,
    pub retired_at: Option<DateTimeUtc>,
    pub signs_from: Option<DateTimeUtc>,
    pub checks_until: Option<DateTimeUtc>,
}

impl ActiveModelBehavior for ActiveModel {}
