//! What each dig check says about its season, in whole numbers, so that a report reads no result.
//! And indexes from which the season of a field is read without a look at the rows, which are long.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    big_integer, big_integer_null, boolean, boolean_null, integer, text, text_null,
    timestamp_with_time_zone, uuid,
};

use crate::tenant;

const NAME: &str = "season_digs";

const SOILS: &[&str] = &["unknown", "coarse", "medium", "fine"];
const COVERS: &[&str] = &["no_cover", "living", "dead"];

/// Table, name of the index, columns.
const COVERING: &[(&str, &str, &[&str])] = &[
    (
        "recommendations",
        "ix_recommendations_season",
        &[
            "practice_id",
            "planter_id",
            "field_id",
            "series_id",
            "issued_at",
            "acknowledged_at",
            "id",
        ],
    ),
    (
        "adjustments",
        "ix_adjustments_season",
        &["practice_id", "dig_check_id", "status", "created_at", "decided_at"],
    ),
];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(digs()).await?;
        tenant::create_indexes(manager, NAME, &[&["planter_id", "field_id"], &["field_id"]])
            .await?;
        for (table, name, columns) in COVERING {
            let mut index = Index::create().name(*name).table(*table).to_owned();
            for column in *columns {
                index.col(*column);
            }
            manager.create_index(index).await?;
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for (table, name, _) in COVERING {
            manager.drop_index(Index::drop().name(*name).table(*table).to_owned()).await?;
        }
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

/// The id is that of the dig check.
fn digs() -> TableCreateStatement {
    tenant::table(NAME)
        .col(uuid("series_id"))
        .col(uuid("planter_id"))
        .col(uuid("field_id"))
        .col(timestamp_with_time_zone("dug_at"))
        .col(tenant::one_of("soil", SOILS))
        .col(tenant::one_of("cover", COVERS))
        .col(boolean("once"))
        .col(boolean("tells"))
        .col(boolean_null("depth_inside"))
        .col(boolean_null("load_inside"))
        .col(big_integer_null("off_um"))
        .col(big_integer("tolerance_um"))
        .col(big_integer("speed_mm_s"))
        .col(big_integer_null("load_n"))
        .col(text("depths"))
        .col(integer("seeds_within"))
        .col(integer("seeds"))
        .col(text_null("cause"))
        .col(text("iron"))
        .foreign_key(&mut tenant::reference(NAME, "id", "dig_checks"))
        .foreign_key(&mut tenant::reference(NAME, "planter_id", "planters"))
        .foreign_key(&mut tenant::reference(NAME, "field_id", "fields"))
        .to_owned()
}
