//! What the manual of a planter says of its parts: sizes when new, limits, and prices. Each change
//! is a row of its own.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{integer, json_binary, timestamp_with_time_zone, uuid};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("wear_limits")
                    .col(uuid("planter_id"))
                    .col(integer("version"))
                    .col(json_binary("entered"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference("wear_limits", "planter_id", "planters"))
                    .foreign_key(&mut tenant::reference("wear_limits", "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, "wear_limits", &["planter_id", "version"]).await?;
        tenant::create_indexes(manager, "wear_limits", &[&["created_by"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("wear_limits").to_owned()).await
    }
}
