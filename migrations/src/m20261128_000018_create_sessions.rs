//! Who is signed in where, and the chain of refresh tokens of each session. Only hashes of tokens
//! are kept.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    text, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null, uuid, uuid_null,
};

use crate::tenant;

const SESSIONS: &str = "sessions";
const TOKENS: &str = "refresh_tokens";

const WAYS_IN: &[&str] = &["password", "access_link", "outside"];
const WAYS_OUT: &[&str] =
    &["signed_out", "token_reused", "password_changed", "account_disabled", "link_revoked"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(sessions()).await?;
        tenant::create_indexes(manager, SESSIONS, &[&["account_id"], &["access_link_id"]]).await?;
        manager.create_table(tokens()).await?;
        tenant::create_indexes(manager, TOKENS, &[&["session_id"]]).await?;
        // A token comes without naming the practice, so its hash is unique over all of them.
        let by_hash = Index::create()
            .name("ux_refresh_tokens_token_hash")
            .table(TOKENS)
            .col("token_hash")
            .unique()
            .to_owned();
        manager.create_index(by_hash).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(TOKENS).to_owned()).await?;
        manager.drop_table(Table::drop().table(SESSIONS).to_owned()).await
    }
}

fn sessions() -> TableCreateStatement {
    tenant::table(SESSIONS)
        .col(uuid("account_id"))
        .col(tenant::one_of("signed_in_by", WAYS_IN))
        .col(uuid_null("access_link_id"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone("refreshed_at"))
        .col(timestamp_with_time_zone("idle_expires_at"))
        .col(timestamp_with_time_zone("expires_at"))
        .col(timestamp_with_time_zone_null("ended_at"))
        .col(
            ColumnDef::new("ended_because")
                .text()
                .check(Expr::col("ended_because").is_in(WAYS_OUT.iter().copied())),
        )
        .foreign_key(&mut tenant::reference(SESSIONS, "account_id", "accounts"))
        .to_owned()
}

/// A token that was used stays, so that it is known when it comes again. `salt` is what its
/// successor is made with, out of the token itself.
fn tokens() -> TableCreateStatement {
    tenant::table(TOKENS)
        .col(uuid("session_id"))
        .col(text("token_hash"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone_null("used_at"))
        .col(text_null("salt"))
        .foreign_key(&mut tenant::reference(TOKENS, "session_id", SESSIONS))
        .to_owned()
}
