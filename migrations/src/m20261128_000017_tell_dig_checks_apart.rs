//! Each dig check has a fingerprint, so that one that is sent twice is kept once, and says what was
//! to be noticed about it; those of before this step have neither.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{json_binary_null, text_null};

use crate::tenant;

const NAME: &str = "dig_checks";
const FINGERPRINT: &str = "fingerprint";
const NOTICES: &str = "notices";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for column in [text_null(FINGERPRINT), json_binary_null(NOTICES)] {
            manager.alter_table(Table::alter().table(NAME).add_column(column).to_owned()).await?;
        }
        tenant::create_unique(manager, NAME, &[FINGERPRINT]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        let index = format!("ux_{NAME}_{FINGERPRINT}");
        manager.drop_index(Index::drop().name(index).table(NAME).to_owned()).await?;
        for column in [NOTICES, FINGERPRINT] {
            manager.alter_table(Table::alter().table(NAME).drop_column(column).to_owned()).await?;
        }
        Ok(())
    }
}
