//! Highest and lowest air temperature of each day at a farm, measured or expected.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{date, double, json_binary, text, timestamp_with_time_zone, uuid};

use crate::tenant;

const TABLE: &str = "air_temperatures";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(TABLE)
                    .col(uuid("farm_id"))
                    .col(date("day"))
                    .col(tenant::one_of("kind", &["measured", "expected"]))
                    .col(text("station"))
                    .col(double("high_k"))
                    .col(double("low_k"))
                    .col(json_binary("entered"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .foreign_key(&mut tenant::reference(TABLE, "farm_id", "farms"))
                    .foreign_key(&mut tenant::reference(TABLE, "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(manager, TABLE, &[&["created_by"], &["updated_at", "id"]]).await?;
        // A day of a farm has one row.
        tenant::create_unique(manager, TABLE, &["farm_id", "day"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(TABLE).to_owned()).await
    }
}
