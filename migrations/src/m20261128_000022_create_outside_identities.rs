//! Who an account is at an outside issuer: bound at the first token, for good.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{text, timestamp_with_time_zone, uuid};

use crate::tenant;

const NAME: &str = "outside_identities";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(text("issuer"))
                    .col(text("subject"))
                    .col(uuid("account_id"))
                    .col(timestamp_with_time_zone("created_at"))
                    .foreign_key(&mut tenant::reference(NAME, "account_id", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, NAME, &["issuer", "subject"]).await?;
        // One person at an issuer is one account, and one account is one person there: an address
        // that is given to somebody else does not take the account along.
        tenant::create_unique(manager, NAME, &["account_id", "issuer"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}
