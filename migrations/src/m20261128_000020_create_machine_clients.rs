//! Programs that sign in with a secret of their own. Each has an account, which holds its role and
//! whether it is disabled; a secret is kept only as its hash.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, text, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid,
};

use crate::tenant;

const CLIENTS: &str = "machine_clients";
const SECRETS: &str = "client_secrets";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(clients()).await?;
        tenant::create_unique(manager, CLIENTS, &["name"]).await?;
        tenant::create_unique(manager, CLIENTS, &["account_id"]).await?;
        // A client signs in without naming the practice.
        manager
            .create_index(
                Index::create()
                    .name(format!("ux_{CLIENTS}_id"))
                    .table(CLIENTS)
                    .col("id")
                    .unique()
                    .to_owned(),
            )
            .await?;
        manager.create_table(secrets()).await?;
        tenant::create_indexes(manager, SECRETS, &[&["client_id"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(SECRETS).to_owned()).await?;
        manager.drop_table(Table::drop().table(CLIENTS).to_owned()).await
    }
}

fn clients() -> TableCreateStatement {
    tenant::table(CLIENTS)
        .col(text("name"))
        .col(uuid("account_id"))
        .col(text("scopes"))
        .col(integer("version"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone("updated_at"))
        .foreign_key(&mut tenant::reference(CLIENTS, "account_id", "accounts"))
        .to_owned()
}

fn secrets() -> TableCreateStatement {
    tenant::table(SECRETS)
        .col(uuid("client_id"))
        .col(text("secret_hash"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone_null("last_used_at"))
        .foreign_key(&mut tenant::reference(SECRETS, "client_id", CLIENTS))
        .to_owned()
}
