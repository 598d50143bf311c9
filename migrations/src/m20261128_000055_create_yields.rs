//! What was harvested from a field. What was entered stays as it was entered; the dry matter follows.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    date, double, double_null, integer, json_binary, text, text_null, timestamp_with_time_zone,
    uuid,
};

use crate::tenant;

const TABLE: &str = "yields";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(TABLE)
                    .col(uuid("field_id"))
                    .col(date("harvested_on"))
                    .col(tenant::one_of("crop", &["corn", "soybean"]))
                    .col(double("dry_kg_m2"))
                    .col(double_null("area_m2"))
                    .col(json_binary("entered"))
                    .col(text_null("note"))
                    .col(text("fingerprint"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .col(integer("version"))
                    .foreign_key(&mut tenant::reference(TABLE, "field_id", "fields"))
                    .foreign_key(&mut tenant::reference(TABLE, "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        let indexes: &[&[&str]] =
            &[&["field_id", "harvested_on"], &["created_by"], &["updated_at", "id"]];
        tenant::create_indexes(manager, TABLE, indexes).await?;
        // What is sent twice is there once.
        tenant::create_unique(manager, TABLE, &["fingerprint"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(TABLE).to_owned()).await
    }
}
