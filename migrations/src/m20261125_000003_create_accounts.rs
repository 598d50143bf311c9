//! Who may sign in, and as what.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    text, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid_null,
};
use sea_orm_migration::sea_orm::DbBackend;

use crate::tenant;

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        let mut accounts = tenant::table("accounts")
            .col(text("email"))
            .col(text("display_name"))
            .col(tenant::one_of(
                "role",
                &["lead", "advisor", "grower", "records_system", "read_only"],
            ))
            .col(uuid_null("grower_id"))
            .col(text("password_hash"))
            .col(tenant::one_of("units", &["us", "si"]))
            .col(timestamp_with_time_zone("created_at"))
            .col(timestamp_with_time_zone_null("disabled_at"))
            .to_owned();
        if manager.get_database_backend() == DbBackend::Sqlite {
            // SQLite takes a reference to a table that comes later, and can't add one afterwards.
            accounts.foreign_key(&mut tenant::reference("accounts", "grower_id", "growers"));
        }
        manager.create_table(accounts).await?;
        tenant::create_indexes(manager, "accounts", &[&["grower_id"]]).await?;
        // An e-mail address signs in without naming the practice, so it is unique over all of them.
        manager
            .create_index(
                Index::create()
                    .name("ux_accounts_email")
                    .table("accounts")
                    .col("email")
                    .unique()
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table("accounts").to_owned()).await
    }
}
