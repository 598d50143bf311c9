//! Rows of `records_links`. Connections to records systems: how their records are fetched and read.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "records_links")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub name: String,
    #[sea_orm(column_type = "Text")]
    pub system: String,
    /// As it was entered, without the secret.
    #[sea_orm(column_type = "JsonBinary")]
    pub profile: Json,
    #[sea_orm(column_type = "Text", nullable)]
    pub sealed_secret: Option<String>,
    /// What the next run need not fetch again.
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub remembered: Option<Json>,
    pub run_every_hours: Option<i32>,
    pub next_run_at: Option<DateTimeUtc>,
    pub version: i32,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
