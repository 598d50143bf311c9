//! A practice says where its day begins, and on which day its season does.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::text;

const NAME: &str = "practices";
const TIME_ZONE: &str = "time_zone";
const SEASON_STARTS: &str = "season_starts";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        // What held before: the calendar year in UTC.
        let columns = [
            text(TIME_ZONE).default("UTC").to_owned(),
            text(SEASON_STARTS).default("01-01").to_owned(),
        ];
        for column in columns {
            manager.alter_table(Table::alter().table(NAME).add_column(column).to_owned()).await?;
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for column in [SEASON_STARTS, TIME_ZONE] {
            manager.alter_table(Table::alter().table(NAME).drop_column(column).to_owned()).await?;
        }
        Ok(())
    }
}
