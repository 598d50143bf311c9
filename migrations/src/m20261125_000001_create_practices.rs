//! The advisory organisations: the tenants.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{pk_uuid, text, timestamp_with_time_zone};

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                Table::create()
                    .table("practices")
                    .col(pk_uuid("id"))
                    .col(text("name"))
                    .col(timestamp_with_time_zone("created_at"))
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("practices").to_owned()).await
    }
}
