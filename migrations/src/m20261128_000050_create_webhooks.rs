//! Where notices of changes go, and how far each place was told.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    big_integer, boolean, integer, text, text_null, timestamp_with_time_zone,
    timestamp_with_time_zone_null, uuid, uuid_null,
};

use crate::tenant;

const NAME: &str = "webhooks";
const STATUSES: &[&str] = &["active", "paused", "stopped"];
const FORMS: &[&str] = &["plain", "cloud_event"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(webhooks()).await?;
        tenant::create_indexes(manager, NAME, &[&["made_by"]]).await?;
        // Whoever delivers looks through those of all practices.
        manager
            .create_index(
                Index::create().name(format!("ix_{NAME}_due")).table(NAME).col("status").to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

fn webhooks() -> TableCreateStatement {
    tenant::table(NAME)
        .col(uuid("made_by"))
        .col(text("name"))
        .col(text("url"))
        .col(text("types"))
        .col(tenant::one_of("form", FORMS))
        .col(boolean("ordered"))
        .col(tenant::one_of("status", STATUSES))
        .col(text_null("stopped_because"))
        .col(text("secret"))
        .col(text_null("secret_before"))
        .col(timestamp_with_time_zone_null("secret_before_until"))
        .col(big_integer("read_to"))
        .col(timestamp_with_time_zone_null("due_at"))
        .col(timestamp_with_time_zone_null("held_until"))
        .col(integer("failures"))
        .col(timestamp_with_time_zone_null("failing_since"))
        .col(uuid_null("lease"))
        .col(timestamp_with_time_zone_null("leased_until"))
        .col(integer("version"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone("updated_at"))
        .foreign_key(&mut tenant::reference(NAME, "made_by", "accounts"))
        .to_owned()
}
