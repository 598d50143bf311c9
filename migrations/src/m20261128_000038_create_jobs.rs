//! Work that follows a change: a row in the transaction of the change, drained by workers.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null,
    uuid_null,
};

use crate::tenant;

const NAME: &str = "jobs";
const KINDS: &[&str] = &["digest", "sheet_ready", "password_link", "access_link"];
const STATUSES: &[&str] = &["waiting", "done", "dead"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(tenant::one_of("kind", KINDS))
                    .col(json_binary("payload"))
                    .col(uuid_null("grower_id"))
                    .col(text_null("once_key"))
                    .col(tenant::one_of("status", STATUSES))
                    .col(timestamp_with_time_zone("run_at"))
                    .col(integer("attempts"))
                    .col(uuid_null("lease"))
                    .col(text_null("last_error"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone_null("finished_at"))
                    .foreign_key(&mut tenant::reference(NAME, "grower_id", "growers"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(manager, NAME, &[&["grower_id"], &["status", "id"]]).await?;
        tenant::create_unique(manager, NAME, &["once_key"]).await?;
        // Workers drain the jobs of all practices, in the order in which they are due.
        manager
            .create_index(
                Index::create()
                    .name(format!("ix_{NAME}_due"))
                    .table(NAME)
                    .col("status")
                    .col("run_at")
                    .col("id")
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
