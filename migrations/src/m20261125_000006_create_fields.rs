//! The fields of a farm, with a boundary, an entered area, or both.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    double_null, integer, json_binary_null, text, text_null, timestamp_with_time_zone, uuid,
};

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("fields")
                    .col(uuid("farm_id"))
                    .col(text("name"))
                    .col(json_binary_null("boundary"))
                    .col(double_null("area_m2"))
                    .col(json_binary_null("entered_area"))
                    .col(text_null("texture_class"))
                    .col(text_null("notes"))
                    .col(integer("version"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .foreign_key(&mut tenant::reference("fields", "farm_id", "farms"))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, "fields", &["farm_id", "name"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("fields").to_owned()).await
    }
}
