//! What was planted where, when and with which planter. What was entered stays as it was entered.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    date, double_null, integer, json_binary, text, text_null, timestamp_with_time_zone, uuid,
    uuid_null,
};

use crate::tenant;

const TABLE: &str = "plantings";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(TABLE)
                    .col(uuid("field_id"))
                    .col(uuid("planter_id"))
                    .col(uuid_null("recommendation_id"))
                    .col(date("planted_on"))
                    .col(tenant::one_of("crop", &["corn", "soybean"]))
                    .col(double_null("area_m2"))
                    .col(double_null("seeds_per_m2"))
                    .col(double_null("depth_m"))
                    .col(double_null("hours"))
                    .col(json_binary("entered"))
                    .col(json_binary("notices"))
                    .col(json_binary("need"))
                    .col(text_null("note"))
                    .col(text("fingerprint"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .col(integer("version"))
                    .foreign_key(&mut tenant::reference(TABLE, "field_id", "fields"))
                    .foreign_key(&mut tenant::reference(TABLE, "planter_id", "planters"))
                    .foreign_key(&mut tenant::reference(
                        TABLE,
                        "recommendation_id",
                        "recommendations",
                    ))
                    .foreign_key(&mut tenant::reference(TABLE, "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            TABLE,
            &[
                &["field_id", "planted_on"],
                &["planter_id", "planted_on"],
                &["recommendation_id"],
                &["created_by"],
                &["planted_on"],
                &["updated_at", "id"],
            ],
        )
        .await?;
        // What is sent twice is there once.
        tenant::create_unique(manager, TABLE, &["fingerprint"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(TABLE).to_owned()).await
    }
}
