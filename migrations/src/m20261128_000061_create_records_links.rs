//! Connections to records systems: how their records are fetched and read.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, integer_null, json_binary, json_binary_null, text, text_null,
    timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
};

use crate::tenant;

const NAME: &str = "records_links";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(links()).await?;
        tenant::create_unique(manager, NAME, &["name"]).await?;
        tenant::create_indexes(manager, NAME, &[&["created_by"]]).await?;
        // One look finds the links of all practices whose time has come.
        manager
            .create_index(
                Index::create()
                    .name(format!("ix_{NAME}_next_run_at"))
                    .table(NAME)
                    .col("next_run_at")
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

fn links() -> TableCreateStatement {
    tenant::table(NAME)
        .col(text("name"))
        .col(text("system"))
        .col(json_binary("profile"))
        .col(text_null("sealed_secret"))
        .col(json_binary_null("remembered"))
        .col(integer_null("run_every_hours"))
        .col(timestamp_with_time_zone_null("next_run_at"))
        .col(integer("version"))
        .col(timestamp_with_time_zone("created_at"))
        .col(uuid("created_by"))
        .col(timestamp_with_time_zone("updated_at"))
        .foreign_key(&mut tenant::reference(NAME, "created_by", "accounts"))
        .to_owned()
}
