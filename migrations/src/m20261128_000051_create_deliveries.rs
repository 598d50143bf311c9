//! Notices, one row for each change and each place it goes to.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    big_integer_null, integer, integer_null, text_null, timestamp_with_time_zone,
    timestamp_with_time_zone_null, uuid,
};

use crate::tenant;

const NAME: &str = "deliveries";
const STATUSES: &[&str] = &["waiting", "delivered", "dead"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(deliveries()).await?;
        tenant::create_indexes(
            manager,
            NAME,
            &[
                &["webhook_id", "status", "due_at", "id"],
                &["webhook_id", "status", "id"],
                &["webhook_id", "status", "position"],
            ],
        )
        .await?;
        // Each change goes to each place once.
        tenant::create_unique(manager, NAME, &["webhook_id", "position"]).await?;
        // What came to its end long ago is swept out, of all practices.
        manager
            .create_index(
                Index::create()
                    .name(format!("ix_{NAME}_finished"))
                    .table(NAME)
                    .col("status")
                    .col("finished_at")
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

/// What is told stands in `changes`, under the position; a test notice has none.
fn deliveries() -> TableCreateStatement {
    tenant::table(NAME)
        .col(uuid("webhook_id"))
        .col(big_integer_null("position"))
        .col(tenant::one_of("status", STATUSES))
        .col(integer("attempts"))
        .col(timestamp_with_time_zone("due_at"))
        .col(integer_null("last_status"))
        .col(text_null("last_error"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone_null("finished_at"))
        .foreign_key(&mut tenant::reference(NAME, "webhook_id", "webhooks"))
        .to_owned()
}
