//! What was found when the grower dug behind the planter. Kept, never changed.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{json_binary, timestamp_with_time_zone, uuid};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("dig_checks")
                    .col(uuid("recommendation_id"))
                    .col(timestamp_with_time_zone("dug_at"))
                    .col(json_binary("observation"))
                    .col(json_binary("result"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference(
                        "dig_checks",
                        "recommendation_id",
                        "recommendations",
                    ))
                    .foreign_key(&mut tenant::reference("dig_checks", "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            "dig_checks",
            &[&["recommendation_id", "dug_at"], &["created_by"]],
        )
        .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("dig_checks").to_owned()).await
    }
}
