//! The schema on the engine that the tests run on.

use api::config::{Engine, Settings};
use api::db;
use migrations::{Migrator, MigratorTrait};
use sea_orm::{
    ConnectOptions, ConnectionTrait, Database, DatabaseConnection, DbBackend, Statement,
};
use tests::TestDatabase;

async fn texts(db: &DatabaseConnection, sql: &str) -> Vec<String> {
    let rows = db.query_all_raw(Statement::from_string(db.get_database_backend(), sql)).await;
    rows.expect("a query").iter().map(|row| row.try_get("", "name").expect("name")).collect()
}

async fn tables(db: &DatabaseConnection) -> Vec<String> {
    let sql = match db.get_database_backend() {
        DbBackend::Sqlite => "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name",
        _ => {
            "SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY tablename"
        }
    };
    let all = texts(db, sql).await;
    let of_tools = |name: &String| name.starts_with("sqlite_") || name.starts_with("seaql_");
    all.into_iter().filter(|name| !of_tools(name)).collect()
}

/// Each column of each table, and whether it may be empty.
async fn columns(db: &DatabaseConnection) -> Vec<String> {
    let sql = match db.get_database_backend() {
        DbBackend::Sqlite => {
            "SELECT t.name || '.' || c.name || CASE WHEN c.\"notnull\" THEN ' NOT NULL' ELSE '' END AS name \
             FROM sqlite_master t JOIN pragma_table_info(t.name) c WHERE t.type = 'table' ORDER BY 1"
        }
        _ => {
            "SELECT table_name || '.' || column_name || CASE is_nullable WHEN 'NO' THEN ' NOT NULL' ELSE '' END \
             AS name FROM information_schema.columns WHERE table_schema = 'public' ORDER BY 1"
        }
    };
    let mut all = texts(db, sql).await;
    all.retain(|name| !name.starts_with("sqlite_") && !name.starts_with("seaql_"));
    all.sort();
    all
}

#[tokio::test]
async fn every_step_goes_up_down_and_up_again() {
    let database = TestDatabase::make().await;
    let db = db::open(&Settings::on(database.url.clone())).await.expect("open");
    assert!(!db::is_ready(&db).await);
    Migrator::up(&db, None).await.expect("up");
    assert!(db::is_ready(&db).await);
    let first = tables(&db).await;
    assert!(first.len() >= 26, "{first:?}");
    Migrator::down(&db, None).await.expect("down");
    assert_eq!(tables(&db).await, [""; 0]);
    assert!(!db::is_ready(&db).await);
    Migrator::up(&db, None).await.expect("up again");
    assert_eq!(tables(&db).await, first);
}

#[tokio::test]
async fn on_postgres_every_reference_has_an_index_that_begins_with_its_columns() {
    let database = TestDatabase::make().await;
    if database.url.engine() == Engine::Sqlite {
        return; // the tests of `migrations` look at SQLite
    }
    let db = db::open(&Settings::on(database.url.clone())).await.expect("open");
    Migrator::up(&db, None).await.expect("up");
    let references = "SELECT conname AS name FROM pg_constraint WHERE contype = 'f'";
    assert!(texts(&db, references).await.len() >= 30);
    let without = format!(
        "{references} AND NOT EXISTS (SELECT 1 FROM pg_index WHERE indrelid = conrelid \
         AND (indkey::int2[])[0:cardinality(conkey) - 1] = conkey)"
    );
    assert_eq!(texts(&db, &without).await, [""; 0]);
}

#[tokio::test]
async fn both_engines_have_the_same_columns() {
    let database = TestDatabase::make().await;
    if database.url.engine() == Engine::Sqlite {
        return; // compared when the tests run on PostgreSQL
    }
    let postgres = db::open(&Settings::on(database.url.clone())).await.expect("open");
    Migrator::up(&postgres, None).await.expect("up");
    let mut options = ConnectOptions::new("sqlite::memory:");
    options.max_connections(1);
    let sqlite = Database::connect(options).await.expect("SQLite in memory");
    Migrator::up(&sqlite, None).await.expect("up");
    let found = columns(&postgres).await;
    assert!(found.len() > 200, "{}", found.len());
    assert_eq!(found, columns(&sqlite).await);
}

#[tokio::test]
async fn sqlite_is_set_up_to_keep_what_it_was_given() {
    let database = TestDatabase::make().await;
    if database.url.engine() == Engine::Postgres {
        return; // these are settings of SQLite
    }
    let db = db::open(&Settings::on(database.url.clone())).await.expect("open");
    for (pragma, wanted) in [
        ("journal_mode", "wal"),
        ("synchronous", "2"), // FULL
        ("foreign_keys", "1"),
        ("busy_timeout", "5000"),
    ] {
        let row = db
            .query_one_raw(Statement::from_string(DbBackend::Sqlite, format!("PRAGMA {pragma}")))
            .await
            .expect("a pragma")
            .expect("a row");
        let found: Result<String, _> = row.try_get_by_index(0);
        let found = match found {
            Ok(text) => text,
            Err(_) => row.try_get_by_index::<i64>(0).expect("a number").to_string(),
        };
        assert_eq!(found, wanted, "{pragma}");
    }
}
