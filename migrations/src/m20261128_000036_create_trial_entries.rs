//! What was found on the plots of a trial. Never changed: a correction is an entry of its own, with
//! the next revision.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{integer, json_binary, text, timestamp_with_time_zone, uuid};

use crate::tenant;

const NAME: &str = "trial_entries";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(uuid("trial_id"))
                    .col(integer("plot"))
                    .col(tenant::one_of("kind", &["values", "planted", "lost"]))
                    .col(text("response"))
                    .col(integer("revision"))
                    .col(json_binary("content"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference(NAME, "trial_id", "trials"))
                    .foreign_key(&mut tenant::reference(NAME, "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        // What comes twice at once is kept once.
        tenant::create_unique(manager, NAME, &["trial_id", "plot", "kind", "response", "revision"])
            .await?;
        tenant::create_indexes(manager, NAME, &[&["created_by"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
