//! Accounts are managed through the service: they count their changes, and a one-time link sets a
//! password.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, text, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
};

use crate::tenant;

const LINKS: &str = "password_links";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        let version = integer("version").default(1).to_owned();
        manager
            .alter_table(Table::alter().table("accounts").add_column(version).to_owned())
            .await?;
        manager.create_table(links()).await?;
        tenant::create_indexes(manager, LINKS, &[&["account_id"]]).await?;
        // A link comes without naming the practice, so its hash is unique over all of them.
        let by_hash = Index::create()
            .name("ux_password_links_token_hash")
            .table(LINKS)
            .col("token_hash")
            .unique()
            .to_owned();
        manager.create_index(by_hash).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(LINKS).to_owned()).await?;
        manager
            .alter_table(Table::alter().table("accounts").drop_column("version").to_owned())
            .await
    }
}

/// `spent_at`: when it set a password, or when a newer link took its place.
fn links() -> TableCreateStatement {
    tenant::table(LINKS)
        .col(uuid("account_id"))
        .col(text("token_hash"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone("expires_at"))
        .col(timestamp_with_time_zone_null("spent_at"))
        .foreign_key(&mut tenant::reference(LINKS, "account_id", "accounts"))
        .to_owned()
}
