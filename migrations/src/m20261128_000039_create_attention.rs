//! What needs somebody: the limits of a practice, and the marks that its people set.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    date_null, integer, text, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null,
    uuid, uuid_null,
};
use sea_orm_migration::sea_orm::DbBackend;

use crate::tenant;

const LIMITS: &str = "attention_limits";
const MARKS: &str = "attention_marks";
const SHEETS: &str = "recommendations";
const DIGS: &str = "dig_checks";
const ADJUSTMENTS: &str = "adjustments";
/// What the list looks at in sheets, all of it in one index: the rows themselves are long.
const OF_SHEETS: &[&str] = &[
    "status",
    "issued_at",
    "series_id",
    "id",
    "field_id",
    "planter_id",
    "conditions_id",
    "calibration_id",
    "acknowledged_at",
];
/// The same of digs.
const OF_DIGS: &[&str] = &["recommendation_id", "dug_at", "depth_side", "asks", "id"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(limits()).await?;
        manager.create_table(marks()).await?;
        let people: &[&[&str]] =
            &[&["grower_id"], &["snoozed_by"], &["assigned_to"], &["assigned_by"]];
        tenant::create_indexes(manager, MARKS, people).await?;
        tenant::create_unique(manager, MARKS, &["entry_key"]).await?;
        // What a dig said, beside the whole judgement: whether it needs anybody is asked often.
        for column in ["depth_side", "asks"] {
            let column = text_null(column);
            manager.alter_table(Table::alter().table(DIGS).add_column(column).to_owned()).await?;
        }
        manager.get_connection().execute_unprepared(&fill(manager.get_database_backend())).await?;
        manager.create_index(index(SHEETS, "ix_recommendations_counting", OF_SHEETS)).await?;
        manager.create_index(index(DIGS, "ix_dig_checks_outcome", OF_DIGS)).await?;
        tenant::create_indexes(manager, ADJUSTMENTS, &[&["status", "recommendation_id"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for (name, table) in [
            ("ix_adjustments_status_recommendation_id", ADJUSTMENTS),
            ("ix_dig_checks_outcome", DIGS),
            ("ix_recommendations_counting", SHEETS),
        ] {
            manager.drop_index(Index::drop().name(name).table(table).to_owned()).await?;
        }
        for column in ["asks", "depth_side"] {
            let step = Table::alter().table(DIGS).drop_column(column).to_owned();
            manager.alter_table(step).await?;
        }
        for name in [MARKS, LIMITS] {
            manager.drop_table(Table::drop().table(name).to_owned()).await?;
        }
        Ok(())
    }
}

fn index(table: &'static str, name: &str, columns: &[&'static str]) -> IndexCreateStatement {
    let mut index = Index::create().name(name).table(table).col("practice_id").to_owned();
    for column in columns {
        index.col(*column);
    }
    index
}

/// Takes what the digs that are there said out of their judgements.
fn fill(backend: DbBackend) -> String {
    let (side, asks) = match backend {
        DbBackend::Postgres => {
            ("result #>> '{statistics,depth,settled,side}'", "result #>> '{proposal,change,kind}'")
        }
        _ => (
            "json_extract(result, '$.statistics.depth.settled.side')",
            "json_extract(result, '$.proposal.change.kind')",
        ),
    };
    format!("UPDATE {DIGS} SET depth_side = {side}, asks = {asks}")
}

/// One row a practice, made at its first change; without one the figures that ship hold.
fn limits() -> TableCreateStatement {
    Table::create()
        .table(LIMITS)
        .col(uuid("practice_id").primary_key())
        .col(integer("sheet_unseen_hours"))
        .col(integer("dig_after_planting_hours"))
        .col(integer("dig_after_seen_days"))
        .col(integer("conditions_days"))
        .col(integer("calibration_months"))
        .col(integer("inspection_days"))
        .col(text("planting_begins"))
        .col(integer("version"))
        .col(timestamp_with_time_zone("updated_at"))
        .foreign_key(
            ForeignKey::create()
                .name(format!("fk_{LIMITS}_practice_id"))
                .from(LIMITS, "practice_id")
                .to("practices", "id"),
        )
        .to_owned()
}

fn marks() -> TableCreateStatement {
    tenant::table(MARKS)
        .col(text("entry_key"))
        .col(uuid_null("grower_id"))
        .col(date_null("snoozed_until"))
        .col(text_null("snooze_reason"))
        .col(timestamp_with_time_zone_null("snoozed_at"))
        .col(uuid_null("snoozed_by"))
        .col(uuid_null("assigned_to"))
        .col(timestamp_with_time_zone_null("assigned_at"))
        .col(uuid_null("assigned_by"))
        .col(timestamp_with_time_zone("updated_at"))
        .foreign_key(&mut tenant::reference(MARKS, "grower_id", "growers"))
        .foreign_key(&mut tenant::reference(MARKS, "snoozed_by", "accounts"))
        .foreign_key(&mut tenant::reference(MARKS, "assigned_to", "accounts"))
        .foreign_key(&mut tenant::reference(MARKS, "assigned_by", "accounts"))
        .to_owned()
}
