//! What was counted after emergence. Kept, never changed.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{date, json_binary, text, timestamp_with_time_zone, uuid};

use crate::tenant;

const TABLE: &str = "stand_counts";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(TABLE)
                    .col(uuid("field_id"))
                    .col(uuid("planting_id"))
                    .col(date("counted_on"))
                    .col(json_binary("observation"))
                    .col(json_binary("result"))
                    .col(text("fingerprint"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference(TABLE, "field_id", "fields"))
                    .foreign_key(&mut tenant::reference(TABLE, "planting_id", "plantings"))
                    .foreign_key(&mut tenant::reference(TABLE, "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            TABLE,
            &[&["field_id", "counted_on"], &["planting_id", "counted_on"], &["created_by"]],
        )
        .await?;
        // What is sent twice is there once.
        tenant::create_unique(manager, TABLE, &["fingerprint"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(TABLE).to_owned()).await
    }
}
