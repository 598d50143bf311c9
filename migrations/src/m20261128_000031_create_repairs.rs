//! What was mended on a planter, and what is still to be replaced. `open_replacements` follows from
//! inspections, limits and repairs, and is written anew whenever one of them changes.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    boolean, date, json_binary, text, text_null, timestamp_with_time_zone, uuid,
};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("repairs")
                    .col(uuid("planter_id"))
                    .col(text("item"))
                    .col(json_binary("rows"))
                    .col(date("repaired_on"))
                    .col(boolean("new_part"))
                    .col(text_null("notes"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference("repairs", "planter_id", "planters"))
                    .foreign_key(&mut tenant::reference("repairs", "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            "repairs",
            &[&["planter_id", "repaired_on"], &["created_by"]],
        )
        .await?;
        manager
            .create_table(
                tenant::table("open_replacements")
                    .col(uuid("planter_id"))
                    .col(uuid("inspection_id"))
                    .col(text("item"))
                    .col(json_binary("rows"))
                    .col(date("since"))
                    .foreign_key(&mut tenant::reference(
                        "open_replacements",
                        "planter_id",
                        "planters",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "open_replacements",
                        "inspection_id",
                        "inspections",
                    ))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            "open_replacements",
            &[&["planter_id", "item"], &["inspection_id"]],
        )
        .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("open_replacements").to_owned()).await?;
        manager.drop_table(Table::drop().table("repairs").to_owned()).await
    }
}
