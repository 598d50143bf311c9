//! Settings for one planter in one field. One row a revision.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, text, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
    uuid_null,
};

use crate::tenant;

const NAME: &str = "recommendations";

/// Each reference has an index of its own.
const REFERENCES: &[(&str, &str)] = &[
    ("field_id", "fields"),
    ("planter_id", "planters"),
    ("conditions_id", "conditions_reports"),
    ("calibration_id", "calibrations"),
    ("replaces_id", "recommendations"),
    ("created_by", "accounts"),
    ("issued_by", "accounts"),
    ("acknowledged_by", "accounts"),
];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(table()).await?;
        create_indexes(manager).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

/// The table as this step makes it; a later step that makes it anew starts from here.
pub(crate) fn table() -> TableCreateStatement {
    let mut table = columns();
    for (column, parent) in REFERENCES {
        table.foreign_key(&mut tenant::reference(NAME, column, parent));
    }
    table
}

/// Its indexes.
pub(crate) async fn create_indexes(manager: &SchemaManager<'_>) -> Result<(), DbErr> {
    tenant::create_unique(manager, NAME, &["series_id", "revision"]).await?;
    for (column, _) in REFERENCES {
        tenant::create_indexes(manager, NAME, &[&[column]]).await?;
    }
    Ok(())
}

fn columns() -> TableCreateStatement {
    tenant::table(NAME)
        .col(uuid("field_id"))
        .col(uuid("planter_id"))
        .col(uuid("conditions_id"))
        .col(uuid_null("calibration_id"))
        .col(uuid("series_id"))
        .col(integer("revision"))
        .col(uuid_null("replaces_id"))
        .col(tenant::one_of("status", &["draft", "issued", "acknowledged", "superseded"]))
        .col(json_binary("goals"))
        .col(json_binary("inputs"))
        .col(json_binary("result"))
        .col(text("engine_version"))
        .col(timestamp_with_time_zone("created_at"))
        .col(uuid("created_by"))
        .col(timestamp_with_time_zone_null("issued_at"))
        .col(uuid_null("issued_by"))
        .col(timestamp_with_time_zone_null("acknowledged_at"))
        .col(uuid_null("acknowledged_by"))
        .col(integer("version"))
        .to_owned()
}
