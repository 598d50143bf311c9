//! The sets of coefficients that recommendations were worked out with. The id is made from the
//! content, so each is kept once a practice.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{json_binary, text, timestamp_with_time_zone};

use crate::tenant;

const NAME: &str = "coefficient_sets";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(text("engine_version"))
                    .col(json_binary("figures"))
                    .col(timestamp_with_time_zone("created_at"))
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
