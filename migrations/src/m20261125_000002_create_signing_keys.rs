//! Keys that sign access tokens: the one table that belongs to no practice.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{text, timestamp_with_time_zone, timestamp_with_time_zone_null};

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                Table::create()
                    .table("signing_keys")
                    .col(text("kid").primary_key().to_owned())
                    .col(text("algorithm"))
                    .col(text("private_pem"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone_null("retired_at"))
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("signing_keys").to_owned()).await
    }
}
