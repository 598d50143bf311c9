//! How people are reached: calendar feeds, and what is mailed to whom.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    boolean, date, integer, text, text_null, timestamp_with_time_zone,
    timestamp_with_time_zone_null, uuid, uuid_null,
};

use crate::tenant;

const FEEDS: &str = "calendar_feeds";
const ENTRIES: &str = "calendar_entries";
const WISHES: &str = "mail_wishes";
const LINKS: &str = "sheet_links";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for table in [feeds(), entries(), wishes(), links()] {
            manager.create_table(table).await?;
        }
        tenant::create_indexes(manager, FEEDS, &[&["account_id"], &["grower_id"]]).await?;
        tenant::create_unique(manager, ENTRIES, &["feed_id", "entry_key"]).await?;
        tenant::create_unique(manager, WISHES, &["account_id"]).await?;
        tenant::create_unique(manager, WISHES, &["grower_id"]).await?;
        tenant::create_indexes(manager, WISHES, &[&["updated_by"]]).await?;
        tenant::create_indexes(manager, LINKS, &[&["recommendation_id"]]).await?;
        // Whoever holds a secret doesn't name the practice.
        for (table, column) in
            [(FEEDS, "secret_hash"), (WISHES, "stop_key"), (LINKS, "secret_hash")]
        {
            manager.create_index(unique(table, column)).await?;
        }
        // Digests of all practices are looked for by the time they are due.
        let due = Index::create()
            .name(format!("ix_{WISHES}_next_digest_at"))
            .table(WISHES)
            .col("next_digest_at")
            .to_owned();
        manager.create_index(due).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for name in [LINKS, WISHES, ENTRIES, FEEDS] {
            manager.drop_table(Table::drop().table(name).to_owned()).await?;
        }
        Ok(())
    }
}

fn unique(table: &'static str, column: &'static str) -> IndexCreateStatement {
    Index::create()
        .name(format!("ux_{table}_{column}"))
        .table(table)
        .col(column)
        .unique()
        .to_owned()
}

fn feeds() -> TableCreateStatement {
    tenant::table(FEEDS)
        .col(uuid("account_id"))
        .col(uuid_null("grower_id"))
        .col(text("secret_hash"))
        .col(text_null("note"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone_null("revoked_at"))
        .foreign_key(&mut tenant::reference(FEEDS, "account_id", "accounts"))
        .foreign_key(&mut tenant::reference(FEEDS, "grower_id", "growers"))
        .to_owned()
}

/// What a feed showed last, so that a change raises the number that calendars look at.
fn entries() -> TableCreateStatement {
    tenant::table(ENTRIES)
        .col(uuid("feed_id"))
        .col(text("entry_key"))
        .col(date("due_on"))
        .col(integer("sequence"))
        .col(text("fingerprint"))
        .col(timestamp_with_time_zone("changed_at"))
        .col(timestamp_with_time_zone_null("dropped_at"))
        .foreign_key(&mut tenant::reference(ENTRIES, "feed_id", FEEDS))
        .to_owned()
}

/// What an account or a grower wants to get by mail: one of the two is set.
fn wishes() -> TableCreateStatement {
    tenant::table(WISHES)
        .col(uuid_null("account_id"))
        .col(uuid_null("grower_id"))
        .col(tenant::one_of("digest", &["none", "daily", "weekly"]))
        .col(integer("digest_hour"))
        .col(integer("digest_weekday"))
        .col(boolean("sheets"))
        .col(timestamp_with_time_zone_null("next_digest_at"))
        .col(text("stop_key"))
        .col(uuid_null("updated_by"))
        .col(timestamp_with_time_zone("updated_at"))
        .check(
            Expr::col("account_id")
                .is_null()
                .and(Expr::col("grower_id").is_not_null())
                .or(Expr::col("account_id").is_not_null().and(Expr::col("grower_id").is_null())),
        )
        .foreign_key(&mut tenant::reference(WISHES, "account_id", "accounts"))
        .foreign_key(&mut tenant::reference(WISHES, "grower_id", "growers"))
        .foreign_key(&mut tenant::reference(WISHES, "updated_by", "accounts"))
        .to_owned()
}

/// Addresses that show one sheet to whoever holds them.
fn links() -> TableCreateStatement {
    tenant::table(LINKS)
        .col(uuid("recommendation_id"))
        .col(text("secret_hash"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone("expires_at"))
        .foreign_key(&mut tenant::reference(LINKS, "recommendation_id", "recommendations"))
        .to_owned()
}
