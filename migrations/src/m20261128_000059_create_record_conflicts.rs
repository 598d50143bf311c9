//! Members that a records system and the practice both changed, until a person says which holds.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, json_binary_null, text, timestamp_with_time_zone, uuid, uuid_null,
};

use crate::tenant;

const NAME: &str = "record_conflicts";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(uuid("external_id"))
                    .col(uuid_null("grower_id"))
                    .col(text("member"))
                    .col(json_binary_null("base"))
                    .col(json_binary("theirs"))
                    .col(integer("version"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .foreign_key(&mut tenant::reference(NAME, "external_id", "external_ids"))
                    .foreign_key(&mut tenant::reference(NAME, "grower_id", "growers"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(manager, NAME, &[&["grower_id"]]).await?;
        // The same conflict waits once, however often it comes.
        tenant::create_unique(manager, NAME, &["external_id", "member"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
