//! Rows of `accounts`. Who may sign in, and as what.

use sea_orm::entity::prelude::*;

use crate::auth::role::Role;
use crate::v1::units::Units;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "accounts")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub email: String,
    #[sea_orm(column_type = "Text")]
    pub display_name: String,
    pub role: Role,
    pub grower_id: Option<Uuid>,
    #[sea_orm(column_type = "Text")]
    pub password_hash: String,
    pub units: Units,
    pub created_at: DateTimeUtc,
    pub disabled_at: Option<DateTimeUtc>,
    pub version: i32,
}

impl ActiveModelBehavior for ActiveModel {}
