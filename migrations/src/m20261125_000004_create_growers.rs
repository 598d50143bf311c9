//! The clients of a practice.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{integer, text, text_null, timestamp_with_time_zone, uuid_null};
use sea_orm_migration::sea_orm::DbBackend;

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table("growers")
                    .col(text("name"))
                    .col(uuid_null("advisor_id"))
                    .col(text_null("phone"))
                    .col(text_null("email"))
                    .col(text_null("notes"))
                    .col(integer("version"))
                    .col(timestamp_with_time_zone("created_at"))
                    .col(timestamp_with_time_zone("updated_at"))
                    .foreign_key(&mut tenant::reference("growers", "advisor_id", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, "growers", &["name"]).await?;
        tenant::create_indexes(manager, "growers", &[&["advisor_id"]]).await?;
        if manager.get_database_backend() == DbBackend::Postgres {
            manager
                .create_foreign_key(tenant::reference("accounts", "grower_id", "growers"))
                .await?;
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        if manager.get_database_backend() == DbBackend::Postgres {
            manager
                .drop_foreign_key(
                    ForeignKey::drop().name("fk_accounts_grower_id").table("accounts").to_owned(),
                )
                .await?;
        }
        manager.drop_table(Table::drop().table("growers").to_owned()).await
    }
}
