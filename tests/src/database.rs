//! A database for one test.
#![expect(
    clippy::disallowed_methods,
    reason = "tests have no settings and no id source of their own"
)]

use std::env;

use api::config::{DatabaseUrl, Settings};
use api::db;
use sea_orm::{ConnectionTrait, Database};
use tempfile::TempDir;
use tokio::sync::OnceCell;
use uuid::Uuid;

/// A database that nobody else uses; gone when dropped (a PostgreSQL one goes with its cluster).
#[derive(Debug)]
pub struct TestDatabase {
    /// Where it is.
    pub url: DatabaseUrl,
    _folder: Option<TempDir>,
}

/// The schema is made once, as the service makes it, and copied: its many steps take longer than most tests.
static SCHEMA: OnceCell<Schema> = OnceCell::const_new();

#[derive(Debug)]
enum Schema {
    /// The bytes of an SQLite file.
    File(Vec<u8>),
    /// The name of a database of the cluster.
    Database(String),
}

impl TestDatabase {
    /// Makes an empty one on the engine that the environment asks for.
    pub async fn make() -> Self {
        match env::var("DIBBLE_TEST_ENGINE").as_deref() {
            Ok("postgres") => Self::on_postgres(None).await,
            Ok("sqlite") | Err(_) => Self::on_sqlite(None),
            Ok(other) => panic!("DIBBLE_TEST_ENGINE is sqlite or postgres, not {other}"),
        }
    }

    /// Makes one that has the schema already.
    pub async fn with_schema() -> Self {
        match SCHEMA.get_or_init(Schema::make).await {
            Schema::File(bytes) => Self::on_sqlite(Some(bytes)),
            Schema::Database(name) => Self::on_postgres(Some(name)).await,
        }
    }

    fn on_sqlite(copied: Option<&[u8]>) -> Self {
        let folder = TempDir::new().expect("a temporary folder");
        let path = folder.path().join("test.sqlite");
        if let Some(bytes) = copied {
            std::fs::write(&path, bytes).expect("written");
        }
        let url = format!("sqlite://{}", path.display());
        Self { url: url.parse().expect("url"), _folder: Some(folder) }
    }

    async fn on_postgres(copied: Option<&str>) -> Self {
        let cluster = env::var("DIBBLE_TEST_POSTGRES_URL")
            .expect("DIBBLE_TEST_POSTGRES_URL names the cluster: postgres://user@host:port");
        let name = format!("dibble_{}", Uuid::now_v7().simple());
        let admin = Database::connect(format!("{cluster}/postgres")).await.expect("cluster");
        let from = copied.map_or(String::new(), |name| format!("TEMPLATE {name}"));
        admin
            .execute_unprepared(&format!("CREATE DATABASE {name} {from}"))
            .await
            .expect("database");
        admin.close().await.expect("closed");
        Self { url: format!("{cluster}/{name}").parse().expect("url"), _folder: None }
    }
}

impl Schema {
    async fn make() -> Self {
        let database = TestDatabase::make().await;
        let db = db::open(&Settings::on(database.url.clone())).await.expect("opened");
        db::migrate(&db).await.expect("every step");
        // Nothing is copied while somebody is connected, and SQLite keeps the last writes in a second file until then.
        db.close().await.expect("closed");
        let url = database.url.secret();
        match database.url.sqlite_path() {
            Some(path) => Self::File(std::fs::read(path).expect("read")),
            None => Self::Database(url.rsplit('/').next().expect("a name").to_owned()),
        }
    }
}
