//! Who did what, when. The database itself refuses to change or delete a row.
//!
//! Only a practice that leaves takes its trail along: with a row for it in `practice_removals`, the
//! rows of that practice, and no others, may be deleted. They may never be changed.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    json_binary_null, text, timestamp_with_time_zone, uuid, uuid_null,
};
use sea_orm_migration::sea_orm::DbBackend;

use crate::tenant;

const NAME: &str = "audit_events";
const REMOVALS: &str = "practice_removals";

const ROLES: &[&str] = &["lead", "advisor", "grower", "records_system", "read_only"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(removals()).await?;
        manager.create_table(events()).await?;
        let indexes: &[&[&str]] = &[&["account_id"], &["grower_id"], &["object_kind", "object_id"]];
        tenant::create_indexes(manager, NAME, indexes).await?;
        let triggers = match manager.get_database_backend() {
            DbBackend::Postgres => POSTGRES,
            _ => SQLITE,
        };
        for trigger in triggers {
            manager.get_connection().execute_unprepared(trigger).await?;
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await?;
        if manager.get_database_backend() == DbBackend::Postgres {
            let sql = "DROP FUNCTION refuse_to_change_audit_events()";
            manager.get_connection().execute_unprepared(sql).await?;
        }
        manager.drop_table(Table::drop().table(REMOVALS).to_owned()).await
    }
}

fn events() -> TableCreateStatement {
    tenant::table(NAME)
        .col(timestamp_with_time_zone("at"))
        .col(uuid("account_id"))
        .col(tenant::one_of("role", ROLES))
        .col(uuid_null("client_id"))
        .col(text("request_id"))
        .col(text("operation"))
        .col(text("object_kind"))
        .col(text("object_id"))
        .col(uuid_null("grower_id"))
        .col(json_binary_null("changed"))
        .foreign_key(&mut tenant::reference(NAME, "account_id", "accounts"))
        .to_owned()
}

/// Practices whose trail may be deleted. The row outlives the practice, so it refers to nothing.
fn removals() -> TableCreateStatement {
    Table::create()
        .table(REMOVALS)
        .col(uuid("practice_id"))
        .col(uuid("id"))
        .col(timestamp_with_time_zone("asked_at"))
        .primary_key(
            Index::create().name(format!("pk_{REMOVALS}")).col("practice_id").col("id").primary(),
        )
        .to_owned()
}

const SQLITE: &[&str] = &[
    "CREATE TRIGGER audit_events_stay_as_they_are BEFORE UPDATE ON audit_events \
     BEGIN SELECT RAISE(ABORT, 'audit events are never changed'); END",
    "CREATE TRIGGER audit_events_stay BEFORE DELETE ON audit_events \
     WHEN NOT EXISTS (SELECT 1 FROM practice_removals WHERE practice_id = OLD.practice_id) \
     BEGIN SELECT RAISE(ABORT, 'audit events are never deleted'); END",
];

const POSTGRES: &[&str] = &[
    "CREATE FUNCTION refuse_to_change_audit_events() RETURNS trigger LANGUAGE plpgsql AS $$ \
     BEGIN \
       IF TG_OP = 'DELETE' AND EXISTS \
         (SELECT 1 FROM practice_removals WHERE practice_id = OLD.practice_id) THEN \
         RETURN OLD; \
       END IF; \
       RAISE EXCEPTION 'audit events are never changed or deleted'; \
     END $$",
    "CREATE TRIGGER audit_events_stay BEFORE UPDATE OR DELETE ON audit_events \
     FOR EACH ROW EXECUTE FUNCTION refuse_to_change_audit_events()",
    "CREATE TRIGGER audit_events_stay_as_a_whole BEFORE TRUNCATE ON audit_events \
     FOR EACH STATEMENT EXECUTE FUNCTION refuse_to_change_audit_events()",
];
