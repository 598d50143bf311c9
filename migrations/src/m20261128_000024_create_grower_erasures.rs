//! When and why the personal data of a grower was erased, without the data.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{json_binary, text, timestamp_with_time_zone, uuid};

use crate::tenant;

const NAME: &str = "grower_erasures";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(uuid("grower_id"))
                    .col(timestamp_with_time_zone("erased_at"))
                    .col(uuid("erased_by"))
                    .col(text("reason"))
                    .col(json_binary("report"))
                    .foreign_key(&mut tenant::reference(NAME, "grower_id", "growers"))
                    .foreign_key(&mut tenant::reference(NAME, "erased_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(manager, NAME, &[&["grower_id"], &["erased_by"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
