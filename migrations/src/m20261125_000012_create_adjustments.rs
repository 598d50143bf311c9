//! The one change proposed after a dig check, and what was decided.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
    uuid_null,
};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("adjustments")
                    .col(uuid("dig_check_id"))
                    .col(uuid("recommendation_id"))
                    .col(tenant::one_of("status", &["proposed", "accepted", "declined"]))
                    .col(json_binary("proposal"))
                    .col(timestamp_with_time_zone_null("decided_at"))
                    .col(uuid_null("decided_by"))
                    .col(text_null("reason"))
                    .col(uuid_null("next_recommendation_id"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(integer("version"))
                    .foreign_key(&mut tenant::reference(
                        "adjustments",
                        "dig_check_id",
                        "dig_checks",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "adjustments",
                        "recommendation_id",
                        "recommendations",
                    ))
                    .foreign_key(&mut tenant::reference("adjustments", "decided_by", "accounts"))
                    .foreign_key(&mut tenant::reference(
                        "adjustments",
                        "next_recommendation_id",
                        "recommendations",
                    ))
                    .to_owned(),
            )
            .await?;
        tenant::create_indexes(
            manager,
            "adjustments",
            &[
                &["dig_check_id"],
                &["recommendation_id"],
                &["decided_by"],
                &["next_recommendation_id"],
            ],
        )
        .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("adjustments").to_owned()).await
    }
}
