//! What records systems called growers who were erased: hashes only, so that nobody comes back
//! with the next listing.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    text, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
};

use crate::tenant;

const NAME: &str = "erased_records";
const SALT: &str = "erasure_salt";
const ERASED_AT: &str = "erased_at";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(uuid("grower_id"))
                    .col(text("mark"))
                    .col(timestamp_with_time_zone(ERASED_AT))
                    .foreign_key(&mut tenant::reference(NAME, "grower_id", "growers"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(manager, NAME, &[&["grower_id"]]).await?;
        // A record is erased once, until a person lets it come again.
        tenant::create_unique(manager, NAME, &["mark"]).await?;
        for (table, column) in added() {
            manager.alter_table(Table::alter().table(table).add_column(column).to_owned()).await?;
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for (table, column) in [("record_matches", ERASED_AT), ("practices", SALT)] {
            manager.alter_table(Table::alter().table(table).drop_column(column).to_owned()).await?;
        }
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

fn added() -> [(&'static str, ColumnDef); 2] {
    [("practices", text_null(SALT)), ("record_matches", timestamp_with_time_zone_null(ERASED_AT))]
}
