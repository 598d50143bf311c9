//! What changed, in the order of commits, for whoever follows a practice; and how far it is counted.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    big_integer, integer_null, text, timestamp_with_time_zone, uuid, uuid_null,
};

use crate::tenant;

const NAME: &str = "changes";
const COUNTERS: &str = "change_counters";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(changes()).await?;
        // For a grower, whose changes are few among all of the practice.
        tenant::create_indexes(manager, NAME, &[&["grower_id", "position"]]).await?;
        manager.create_table(counters()).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(COUNTERS).to_owned()).await?;
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

/// Rows that only ever come at the end. They hold ids alone and outlive what they are about, so they
/// refer to nothing but the practice. `type` takes any word: a process of an older version must not
/// refuse what a newer one writes.
fn changes() -> TableCreateStatement {
    Table::create()
        .table(NAME)
        .col(uuid("practice_id"))
        .col(big_integer("position"))
        .col(timestamp_with_time_zone("at"))
        .col(text("type"))
        .col(text("object_kind"))
        .col(text("object_id"))
        .col(uuid_null("grower_id"))
        .col(integer_null("version"))
        .primary_key(
            Index::create().name(format!("pk_{NAME}")).col("practice_id").col("position").primary(),
        )
        .foreign_key(&mut of_practice(NAME))
        .to_owned()
}

/// One row a practice: the position of its last change.
fn counters() -> TableCreateStatement {
    Table::create()
        .table(COUNTERS)
        .col(uuid("practice_id").primary_key())
        .col(big_integer("position"))
        .foreign_key(&mut of_practice(COUNTERS))
        .to_owned()
}

fn of_practice(table: &'static str) -> ForeignKeyCreateStatement {
    ForeignKey::create()
        .name(format!("fk_{table}_practice_id"))
        .from(table, "practice_id")
        .to("practices", "id")
        .to_owned()
}
