//! Links that let a grower in without a password. The token of a link is kept only as its hash.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    boolean, text, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
};

use crate::tenant;

const NAME: &str = "access_links";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(uuid("grower_id"))
                    .col(uuid("made_by"))
                    .col(text("token_hash"))
                    .col(text_null("note"))
                    .col(boolean("single_use"))
                    .col(timestamp_with_time_zone("expires_at"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone_null("last_used_at"))
                    .col(timestamp_with_time_zone_null("revoked_at"))
                    .foreign_key(&mut tenant::reference(NAME, "grower_id", "growers"))
                    .foreign_key(&mut tenant::reference(NAME, "made_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(manager, NAME, &[&["grower_id"], &["made_by"]]).await?;
        // Whoever holds a link doesn't name the practice.
        manager
            .create_index(
                Index::create()
                    .name(format!("ux_{NAME}_token_hash"))
                    .table(NAME)
                    .col("token_hash")
                    .unique()
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
