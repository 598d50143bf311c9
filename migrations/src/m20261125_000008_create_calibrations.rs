//! Down force against pressure, as measured on a planter. Kept, never changed.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{date, json_binary, text_null, timestamp_with_time_zone, uuid};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("calibrations")
                    .col(uuid("planter_id"))
                    .col(date("calibrated_on"))
                    .col(json_binary("points"))
                    .col(text_null("notes"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference("calibrations", "planter_id", "planters"))
                    .foreign_key(&mut tenant::reference("calibrations", "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            "calibrations",
            &[&["planter_id", "calibrated_on"], &["created_by"]],
        )
        .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("calibrations").to_owned()).await
    }
}
