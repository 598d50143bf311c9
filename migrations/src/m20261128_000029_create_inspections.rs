//! What was seen and measured on a planter in the shed. Kept, never changed: a correction is a row
//! of its own that takes the place of the one it names.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    date, json_binary, text_null, timestamp_with_time_zone, uuid, uuid_null,
};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("inspections")
                    .col(uuid("planter_id"))
                    .col(date("inspected_on"))
                    .col(json_binary("entered"))
                    .col(text_null("fingerprint"))
                    .col(uuid_null("replaces_id"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(uuid("created_by"))
                    .foreign_key(&mut tenant::reference("inspections", "planter_id", "planters"))
                    .foreign_key(&mut tenant::reference(
                        "inspections",
                        "replaces_id",
                        "inspections",
                    ))
                    .foreign_key(&mut tenant::reference("inspections", "created_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, "inspections", &["planter_id", "fingerprint"]).await?;
        tenant::create_unique(manager, "inspections", &["replaces_id"]).await?;
        tenant::create_indexes(
            manager,
            "inspections",
            &[&["planter_id", "inspected_on"], &["created_by"]],
        )
        .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("inspections").to_owned()).await
    }
}
