//! Trials: what is compared, and what lies where.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, text, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
    uuid_null,
};

use crate::tenant;

const NAME: &str = "trials";

/// Each reference has an index of its own.
const REFERENCES: &[(&str, &str)] = &[
    ("field_id", "fields"),
    ("planter_id", "planters"),
    ("created_by", "accounts"),
    ("started_by", "accounts"),
    ("closed_by", "accounts"),
];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        let mut table = columns();
        for (column, parent) in REFERENCES {
            table.foreign_key(&mut tenant::reference(NAME, column, parent));
        }
        manager.create_table(table).await?;
        for (column, _) in REFERENCES {
            tenant::create_indexes(manager, NAME, &[&[column]]).await?;
        }
        tenant::create_indexes(manager, NAME, &[&["updated_at", "id"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

fn columns() -> TableCreateStatement {
    tenant::table(NAME)
        .col(uuid("field_id"))
        .col(uuid("planter_id"))
        .col(text("name"))
        .col(tenant::one_of("status", &["draft", "running", "closed"]))
        .col(json_binary("design"))
        .col(json_binary("layout"))
        .col(json_binary("replications"))
        .col(timestamp_with_time_zone("created_at"))
        .col(uuid("created_by"))
        .col(timestamp_with_time_zone_null("started_at"))
        .col(uuid_null("started_by"))
        .col(timestamp_with_time_zone_null("closed_at"))
        .col(uuid_null("closed_by"))
        .col(integer("version"))
        .col(timestamp_with_time_zone("updated_at"))
        .to_owned()
}
