//! What a repair or a planting cost, where somebody says so.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{double_null, text_null};

const TABLES: [&str; 2] = ["repairs", "plantings"];
const AMOUNT: &str = "cost_amount";
const CURRENCY: &str = "cost_currency";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for table in TABLES {
            for column in [double_null(AMOUNT), text_null(CURRENCY)] {
                manager
                    .alter_table(Table::alter().table(table).add_column(column).to_owned())
                    .await?;
            }
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for table in TABLES {
            for column in [CURRENCY, AMOUNT] {
                manager
                    .alter_table(Table::alter().table(table).drop_column(column).to_owned())
                    .await?;
            }
        }
        Ok(())
    }
}
