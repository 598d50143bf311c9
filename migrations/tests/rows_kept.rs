//! Steps that make a table anew keep its rows and what refers to them.
#![expect(clippy::expect_used, reason = "a test that meets the unexpected must fail loudly")]

use migrations::{Migrator, MigratorTrait};
use sea_orm_migration::sea_orm::{
    ConnectOptions, ConnectionTrait, Database, DatabaseConnection, DbBackend, Statement,
};

/// Steps up to the one that made the last table of the first version.
const FIRST_VERSION: u32 = 12;

const ROWS: &[&str] = &[
    "INSERT INTO practices VALUES (x'01', 'P', 't')",
    "INSERT INTO accounts VALUES (x'01', x'02', 'a@b.example', 'A', 'lead', NULL, 'h', 'us', 't', NULL)",
    "INSERT INTO growers VALUES (x'01', x'03', 'G', x'02', NULL, NULL, NULL, 1, 't', 't')",
    "INSERT INTO farms VALUES (x'01', x'04', x'03', 'F', 1, 't', 't')",
    "INSERT INTO fields VALUES (x'01', x'05', x'04', 'N', NULL, NULL, NULL, NULL, NULL, 1, 't', 't')",
    "INSERT INTO planters VALUES (x'01', x'06', x'03', 'P', '{}', 1, 't', 't')",
    "INSERT INTO conditions_reports VALUES (x'01', x'07', x'05', 't', '{}', 't', x'02')",
    "INSERT INTO recommendations VALUES (x'01', x'08', x'05', x'06', x'07', NULL, x'08', 1, NULL, 'superseded', '{}', '{}', '{}', '2026.1', 't', x'02', NULL, NULL, NULL, NULL, 3)",
    "INSERT INTO recommendations VALUES (x'01', x'09', x'05', x'06', x'07', NULL, x'08', 2, x'08', 'issued', '{}', '{}', '{}', '2026.1', 't', x'02', 't', x'02', NULL, NULL, 2)",
    "INSERT INTO dig_checks VALUES (x'01', x'0a', x'08', 't', '{}', '{}', 't', x'02')",
    "INSERT INTO adjustments VALUES (x'01', x'0b', x'0a', x'08', 'accepted', '{}', 't', x'02', NULL, x'09', 't', 2)",
];

async fn count(db: &DatabaseConnection, sql: &str) -> usize {
    let rows = db.query_all_raw(Statement::from_string(DbBackend::Sqlite, sql)).await;
    rows.expect("query").len()
}

async fn all_there(db: &DatabaseConnection) {
    let sheets = "SELECT id FROM recommendations WHERE engine_version = '2026.1' AND version > 1";
    assert_eq!(count(db, sheets).await, 2);
    assert_eq!(count(db, "SELECT id FROM recommendations WHERE replaces_id = x'08'").await, 1);
    assert_eq!(count(db, "SELECT id FROM dig_checks").await, 1);
    assert_eq!(count(db, "SELECT id FROM adjustments").await, 1);
    assert_eq!(count(db, "PRAGMA foreign_key_check").await, 0, "a reference points nowhere");
    assert_eq!(count(db, "SELECT 1 FROM sqlite_master WHERE name LIKE '%_kept'").await, 0);
}

async fn first_version_with_rows() -> DatabaseConnection {
    let mut options = ConnectOptions::new("sqlite::memory:");
    options.max_connections(1);
    let db = Database::connect(options).await.expect("SQLite in memory");
    Migrator::up(&db, Some(FIRST_VERSION)).await.expect("up");
    for row in ROWS {
        db.execute_unprepared(row).await.expect(row);
    }
    db
}

#[tokio::test]
async fn recommendations_keep_their_rows_on_the_way_up_and_down() {
    let db = first_version_with_rows().await;
    all_there(&db).await;
    Migrator::up(&db, None).await.expect("up");
    all_there(&db).await;
    let without = "SELECT id FROM recommendations WHERE coefficient_set_id IS NULL";
    assert_eq!(count(&db, without).await, 2);
    let later = u32::try_from(Migrator::migrations().len()).expect("few") - FIRST_VERSION;
    Migrator::down(&db, Some(later)).await.expect("down");
    all_there(&db).await;
    Migrator::up(&db, None).await.expect("up again");
    all_there(&db).await;
}

#[tokio::test]
async fn rows_of_before_get_the_time_of_their_last_change() {
    let db = first_version_with_rows().await;
    for change in [
        "UPDATE recommendations SET created_at = 'a', issued_at = 'b' WHERE id = x'08'",
        "UPDATE recommendations SET created_at = 'a', issued_at = NULL WHERE id = x'09'",
        "UPDATE adjustments SET created_at = 'a', decided_at = 'c'",
    ] {
        db.execute_unprepared(change).await.expect(change);
    }
    Migrator::up(&db, None).await.expect("up");
    let sheet = |id: u8, time: &str| {
        format!("SELECT 1 FROM recommendations WHERE id = x'0{id}' AND updated_at = '{time}'")
    };
    assert_eq!(count(&db, &sheet(8, "b")).await, 1);
    assert_eq!(count(&db, &sheet(9, "a")).await, 1);
    assert_eq!(count(&db, "SELECT 1 FROM adjustments WHERE updated_at = 'c'").await, 1);
}

#[tokio::test]
async fn references_are_held_after_the_steps_as_before() {
    let db = first_version_with_rows().await;
    Migrator::up(&db, None).await.expect("up");
    let nowhere = "UPDATE recommendations SET coefficient_set_id = x'77'";
    let refused = db.execute_unprepared(nowhere).await.expect_err("no such set");
    assert!(refused.to_string().contains("FOREIGN KEY"), "{refused}");
    let parent = "DELETE FROM recommendations WHERE id = x'08'";
    let refused = db.execute_unprepared(parent).await.expect_err("a dig refers to it");
    assert!(refused.to_string().contains("FOREIGN KEY"), "{refused}");
}

#[tokio::test]
async fn a_figure_without_its_range_is_refused_by_the_database() {
    let db = first_version_with_rows().await;
    Migrator::up(&db, None).await.expect("up");
    let own = |figures: &str, id: u8| {
        format!(
            "INSERT INTO own_coefficients VALUES (x'01', x'0{id}', 'n', {id}, {figures}, NULL, 't', x'02')"
        )
    };
    let refused = db.execute_unprepared(&own("1.0, NULL, 2.0, 's'", 1)).await.expect_err("CHECK");
    assert!(refused.to_string().contains("CHECK"), "{refused}");
    db.execute_unprepared(&own("1.0, 0.5, 2.0, 's'", 1)).await.expect("a whole figure");
    db.execute_unprepared(&own("NULL, NULL, NULL, NULL", 2)).await.expect("back to the standard");
}

#[tokio::test]
async fn a_dig_check_is_kept_once_by_its_fingerprint() {
    let db = first_version_with_rows().await;
    Migrator::up(&db, None).await.expect("up");
    let dig = |id: u8, fingerprint: &str| {
        format!(
            "INSERT INTO dig_checks VALUES (x'01', x'{id}', x'08', 't', '{{}}', '{{}}', 't', x'02', {fingerprint}, NULL, NULL, NULL)"
        )
    };
    for (id, fingerprint) in [(10, "NULL"), (11, "NULL"), (12, "'a'"), (13, "'b'")] {
        db.execute_unprepared(&dig(id, fingerprint)).await.expect(fingerprint);
    }
    let refused = db.execute_unprepared(&dig(14, "'a'")).await.expect_err("twice");
    assert!(refused.to_string().contains("UNIQUE"), "{refused}");
}
