//! What each dig check taught about resistance, so that all that was learned can be put together
//! again at any time; and how far the lessons of a practice are counted.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    big_integer, integer, json_binary_null, timestamp_with_time_zone, uuid,
};

use crate::tenant;

const NAME: &str = "dig_lessons";
const COUNTERS: &str = "lesson_counters";

const SOILS: &[&str] = &["unknown", "coarse", "medium", "fine"];
const COVERS: &[&str] = &["no_cover", "living", "dead"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(lessons()).await?;
        tenant::create_unique(manager, NAME, &["seq"]).await?;
        tenant::create_indexes(manager, NAME, &[&["planter_id"], &["field_id"]]).await?;
        manager.create_table(counters()).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(COUNTERS).to_owned()).await?;
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

/// The id is that of the dig check: each has one lesson. A dig check that teaches nothing has one
/// without an event, so that it is known to have been looked at.
fn lessons() -> TableCreateStatement {
    tenant::table(NAME)
        .col(big_integer("seq"))
        .col(uuid("planter_id"))
        .col(uuid("field_id"))
        .col(integer("season"))
        .col(tenant::one_of("soil", SOILS))
        .col(tenant::one_of("cover", COVERS))
        .col(timestamp_with_time_zone("dug_at"))
        .col(json_binary_null("event"))
        .col(timestamp_with_time_zone("created_at"))
        .foreign_key(&mut tenant::reference(NAME, "id", "dig_checks"))
        .foreign_key(&mut tenant::reference(NAME, "planter_id", "planters"))
        .foreign_key(&mut tenant::reference(NAME, "field_id", "fields"))
        .to_owned()
}

/// One row a practice. `seq` is the number of its last lesson, `generation` how often all of them
/// were made anew.
fn counters() -> TableCreateStatement {
    Table::create()
        .table(COUNTERS)
        .col(uuid("practice_id").primary_key())
        .col(big_integer("seq"))
        .col(integer("generation"))
        .foreign_key(
            ForeignKey::create()
                .name(format!("fk_{COUNTERS}_practice_id"))
                .from(COUNTERS, "practice_id")
                .to("practices", "id"),
        )
        .to_owned()
}
