//! The planters of a grower.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{integer, json_binary, text, timestamp_with_time_zone, uuid};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("planters")
                    .col(uuid("grower_id"))
                    .col(text("name"))
                    .col(json_binary("makeup"))
                    .col(integer("version"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .foreign_key(&mut tenant::reference("planters", "grower_id", "growers"))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, "planters", &["grower_id", "name"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("planters").to_owned()).await
    }
}
