//! Records of records systems that wait until a person says which object of ours they are, or that
//! they are new.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, text, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null,
    uuid_null,
};

use crate::tenant;

const NAME: &str = "record_matches";
const KINDS: &[&str] = &["grower", "farm", "field", "planter", "yield"];
const WAITS: &[&str] = &["decision", "makeup", "parent"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(text("system"))
                    .col(tenant::one_of("kind", KINDS))
                    .col(text("their_id"))
                    .col(text_null("their_version"))
                    .col(timestamp_with_time_zone_null("their_updated_at"))
                    .col(tenant::one_of("waits_for", WAITS))
                    .col(uuid_null("grower_id"))
                    .col(json_binary("record"))
                    .col(json_binary("candidates"))
                    .col(integer("version"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .foreign_key(&mut tenant::reference(NAME, "grower_id", "growers"))
                    .to_owned(),
            )
            .await?;
        let indexes: &[&[&str]] = &[&["grower_id"], &["waits_for", "id"]];
        tenant::create_indexes(manager, NAME, indexes).await?;
        // A record that comes again waits once.
        tenant::create_unique(manager, NAME, &["system", "kind", "their_id"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
