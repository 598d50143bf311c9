//! Requests that were carried out, with their answers, so that one that is sent again is not carried
//! out twice. Rows go when they expire.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{integer, text_null, timestamp_with_time_zone};

use crate::tenant;

const NAME: &str = "idempotency_keys";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(text_null("fingerprint"))
                    .col(integer("status"))
                    .col(text_null("etag"))
                    .col(text_null("location"))
                    .col(text_null("body"))
                    .col(timestamp_with_time_zone("expires_at"))
                    .to_owned(),
            )
            .await?;
        // What has expired is looked for in all practices at once.
        let expiry = Index::create()
            .name(format!("ix_{NAME}_expires_at"))
            .table(NAME)
            .col("expires_at")
            .to_owned();
        manager.create_index(expiry).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
