//! Settings for one planter in one field. One row a revision.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, text, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
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
                tenant::table("recommendations")
                    .col(uuid("field_id"))
                    .col(uuid("planter_id"))
                    .col(uuid("conditions_id"))
                    .col(uuid_null("calibration_id"))
                    .col(uuid("series_id"))
                    .col(integer("revision"))
                    .col(uuid_null("replaces_id"))
                    .col(tenant::one_of(
                        "status",
                        &["draft", "issued", "acknowledged", "superseded"],
                    ))
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
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "field_id",
                        "fields",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "planter_id",
                        "planters",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "conditions_id",
                        "conditions_reports",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "calibration_id",
                        "calibrations",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "replaces_id",
                        "recommendations",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "created_by",
                        "accounts",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "issued_by",
                        "accounts",
                    ))
                    .foreign_key(&mut tenant::reference(
                        "recommendations",
                        "acknowledged_by",
                        "accounts",
                    ))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, "recommendations", &["series_id", "revision"]).await?;
        tenant::create_indexes(
            manager,
            "recommendations",
            &[
                &["field_id"],
                &["planter_id"],
                &["conditions_id"],
                &["calibration_id"],
                &["replaces_id"],
                &["created_by"],
                &["issued_by"],
                &["acknowledged_by"],
            ],
        )
        .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .drop_table(Table::drop().table("recommendations").to_owned())
            .await
    }
}
