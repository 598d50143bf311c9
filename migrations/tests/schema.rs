//! The steps themselves: dump, up and down, and an index under every reference.
#![expect(clippy::expect_used, reason = "a test that meets the unexpected must fail loudly")]

use std::collections::{BTreeMap, BTreeSet};

use migrations::{Migrator, MigratorTrait, sqlite_schema};
use sea_orm_migration::sea_orm::{
    ConnectOptions, ConnectionTrait, Database, DatabaseConnection, DbBackend, Statement,
};

async fn empty_database() -> DatabaseConnection {
    let mut options = ConnectOptions::new("sqlite::memory:");
    options.max_connections(1);
    Database::connect(options).await.expect("SQLite in memory")
}

async fn texts(db: &DatabaseConnection, sql: &str, column: &str) -> Vec<String> {
    db.query_all_raw(Statement::from_string(DbBackend::Sqlite, sql))
        .await
        .expect("query of the schema")
        .iter()
        .map(|row| row.try_get::<String>("", column).expect("text column"))
        .collect()
}

#[tokio::test]
async fn the_committed_dump_is_what_the_steps_make() {
    let db = empty_database().await;
    Migrator::up(&db, None).await.expect("up");
    let committed = include_str!("../schema.sql");
    let made = sqlite_schema(&db).await.expect("dump");
    assert!(
        committed == made,
        "schema.sql is stale: cargo run -p migrations --example dump_schema > migrations/schema.sql"
    );
}

#[tokio::test]
async fn every_step_goes_up_down_and_up_again() {
    let db = empty_database().await;
    Migrator::up(&db, None).await.expect("up");
    let first = sqlite_schema(&db).await.expect("dump");

    Migrator::down(&db, None).await.expect("down");
    let left = texts(
        &db,
        "SELECT name FROM sqlite_master WHERE name NOT LIKE 'sqlite_%' AND tbl_name <> 'seaql_migrations'",
        "name",
    )
    .await;
    assert!(left.is_empty(), "down leaves {left:?}");

    Migrator::up(&db, None).await.expect("up again");
    assert_eq!(sqlite_schema(&db).await.expect("dump"), first);
}

#[tokio::test]
async fn every_reference_has_an_index_that_begins_with_its_columns() {
    let db = empty_database().await;
    Migrator::up(&db, None).await.expect("up");
    let mut references = 0;
    for table in tables(&db).await {
        let indexes = indexes_of(&db, &table).await;
        for columns in references_of(&db, &table).await {
            references += 1;
            assert!(
                indexes.iter().any(|index| index.starts_with(&columns)),
                "{table}: no index begins with {columns:?}"
            );
        }
    }
    assert!(references >= 30, "only {references} references found: is the query right?");
}

#[tokio::test]
async fn every_table_of_a_practice_leads_with_the_practice() {
    let db = empty_database().await;
    Migrator::up(&db, None).await.expect("up");
    let without: BTreeSet<&str> = ["practices", "signing_keys"].into();
    for table in tables(&db).await.iter().filter(|table| !without.contains(table.as_str())) {
        let columns =
            texts(&db, &format!("SELECT name FROM pragma_table_info('{table}')"), "name").await;
        assert_eq!(columns[0], "practice_id", "{table}");
        // A practice has one counter and one row of limits; sums are found by what they are of.
        let second = match table.as_str() {
            "lesson_counters" => "seq",
            "attention_limits" => "sheet_unseen_hours",
            "season_fields" | "season_planters" => "season",
            "changes" | "change_counters" => "position",
            _ => "id",
        };
        assert_eq!(columns[1], second, "{table}");
    }
}

#[tokio::test]
async fn a_status_outside_the_list_is_refused_by_the_database() {
    let db = empty_database().await;
    Migrator::up(&db, None).await.expect("up");
    let practice = |id: u8, sees: &str| {
        format!(
            "INSERT INTO practices (id, name, created_at, advisors_see) \
             VALUES (x'0{id}', 'A', '2026-01-01T00:00:00Z', '{sees}')"
        )
    };
    let refused = db.execute_unprepared(&practice(2, "none")).await.expect_err("CHECK");
    assert!(refused.to_string().contains("CHECK"), "{refused}");
    db.execute_unprepared(&practice(1, "assigned")).await.expect("practice");
    let account = |role: &str| {
        format!(
            "INSERT INTO accounts (practice_id, id, email, display_name, role, password_hash, units, created_at) \
             VALUES (x'01', x'02', 'a@b.example', 'A', '{role}', 'h', 'us', '2026-01-01T00:00:00Z')"
        )
    };
    let refused = db.execute_unprepared(&account("owner")).await.expect_err("CHECK");
    assert!(refused.to_string().contains("CHECK"), "{refused}");
    db.execute_unprepared(&account("lead")).await.expect("a role of the list");
}

async fn tables(db: &DatabaseConnection) -> Vec<String> {
    texts(
        db,
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'seaql_migrations'",
        "name",
    )
    .await
}

/// The columns of each index of `table`, in order; the primary key is one of them.
async fn indexes_of(db: &DatabaseConnection, table: &str) -> Vec<Vec<String>> {
    let names = texts(db, &format!("SELECT name FROM pragma_index_list('{table}')"), "name").await;
    let mut indexes = Vec::new();
    for name in names {
        let sql = format!("SELECT name FROM pragma_index_info('{name}') ORDER BY seqno");
        indexes.push(texts(db, &sql, "name").await);
    }
    indexes
}

/// The columns of each reference of `table`, in order.
async fn references_of(db: &DatabaseConnection, table: &str) -> Vec<Vec<String>> {
    let rows = db
        .query_all_raw(Statement::from_string(
            DbBackend::Sqlite,
            format!("SELECT id, \"from\" FROM pragma_foreign_key_list('{table}') ORDER BY id, seq"),
        ))
        .await
        .expect("references");
    let mut by_id: BTreeMap<i64, Vec<String>> = BTreeMap::new();
    for row in rows {
        let id: i64 = row.try_get("", "id").expect("id");
        by_id.entry(id).or_default().push(row.try_get("", "from").expect("column"));
    }
    by_id.into_values().collect()
}
