//! The ids that records systems give to growers, farms, fields, planters and yields, with what was
//! taken last.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    integer, json_binary, text, text_null, timestamp_with_time_zone, timestamp_with_time_zone_null,
    uuid, uuid_null,
};

use crate::tenant;

const NAME: &str = "external_ids";
const KINDS: &[&str] = &["grower", "farm", "field", "planter", "yield"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(table()).await?;
        tenant::create_indexes(manager, NAME, &[&["grower_id"], &["system", "id"]]).await?;
        // One object has one id in a system, and one id is of one object.
        tenant::create_unique(manager, NAME, &["system", "kind", "their_id"]).await?;
        tenant::create_unique(manager, NAME, &["object_id", "system"]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

/// `object_id` is of one table or another, by `kind`. It outlives the object: what was deleted here
/// must not come back with the next listing.
fn table() -> TableCreateStatement {
    tenant::table(NAME)
        .col(text("system"))
        .col(tenant::one_of("kind", KINDS))
        .col(text("their_id"))
        .col(uuid("object_id"))
        .col(uuid_null("grower_id"))
        .col(json_binary("taken"))
        .col(text("taken_hash"))
        .col(text_null("their_version"))
        .col(timestamp_with_time_zone_null("their_updated_at"))
        .col(timestamp_with_time_zone("first_seen_at"))
        .col(timestamp_with_time_zone("last_seen_at"))
        .col(timestamp_with_time_zone_null("gone_since"))
        .col(integer("version"))
        .foreign_key(&mut tenant::reference(NAME, "grower_id", "growers"))
        .to_owned()
}
