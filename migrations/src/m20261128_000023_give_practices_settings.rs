//! A practice says whether its advisors see all growers or only those assigned to them.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{integer, timestamp_with_time_zone};

use crate::tenant;

const NAME: &str = "practices";
const ADVISORS_SEE: &str = "advisors_see";
const VERSION: &str = "version";
const UPDATED_AT: &str = "updated_at";

/// Rows that are there need a value at once; they get the time they were made right after.
const BEFORE_ALL: &str = "1970-01-01T00:00:00+00:00";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        let columns = [
            tenant::one_of(ADVISORS_SEE, &["all", "assigned"]).default("all").to_owned(),
            integer(VERSION).default(1).to_owned(),
            timestamp_with_time_zone(UPDATED_AT).default(BEFORE_ALL).to_owned(),
        ];
        for column in columns {
            manager.alter_table(Table::alter().table(NAME).add_column(column).to_owned()).await?;
        }
        let sql = format!("UPDATE {NAME} SET {UPDATED_AT} = created_at");
        manager.get_connection().execute_unprepared(&sql).await?;
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for column in [UPDATED_AT, VERSION, ADVISORS_SEE] {
            manager.alter_table(Table::alter().table(NAME).drop_column(column).to_owned()).await?;
        }
        Ok(())
    }
}
