//! A new signing key is published before it signs, and an old one checks until the last token that
//! it signed has expired. Keys of before this step sign from the day they were made.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::timestamp_with_time_zone_null;

const NAME: &str = "signing_keys";
const SIGNS_FROM: &str = "signs_from";
const CHECKS_UNTIL: &str = "checks_until";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for column in [SIGNS_FROM, CHECKS_UNTIL] {
            let column = timestamp_with_time_zone_null(column);
            manager.alter_table(Table::alter().table(NAME).add_column(column).to_owned()).await?;
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for column in [CHECKS_UNTIL, SIGNS_FROM] {
            manager.alter_table(Table::alter().table(NAME).drop_column(column).to_owned()).await?;
        }
        Ok(())
    }
}
