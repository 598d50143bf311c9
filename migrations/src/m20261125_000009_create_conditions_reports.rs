//! What was seen in a field before planting. Kept, never changed.

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
                tenant::table("conditions_reports")
                    .col(uuid("field_id"))
                    .col(timestamp_with_time_zone("observed_at"))
                    .col(json_binary("observations"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference("conditions_reports", "field_id", "fields"))
                    .foreign_key(&mut tenant::reference(
                        "conditions_reports",
                        "created_by",
                        "accounts",
                    ))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            "conditions_reports",
            &[&["field_id", "observed_at"], &["created_by"]],
        )
        .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("conditions_reports").to_owned()).await
    }
}
