//! A database for one test.
#![expect(
    clippy::disallowed_methods,
    reason = "tests have no settings and no id source of their own"
)]

use std::env;

use api::config::DatabaseUrl;
use sea_orm::{ConnectionTrait, Database};
use tempfile::TempDir;
use uuid::Uuid;

/// A database that nobody else uses; gone when dropped (a PostgreSQL one goes with its cluster).
#[derive(Debug)]
pub struct TestDatabase {
    /// Where it is.
    pub url: DatabaseUrl,
    _folder: Option<TempDir>,
}

impl TestDatabase {
    /// Makes an empty one on the engine that the environment asks for.
    pub async fn make() -> Self {
        match env::var("DIBBLE_TEST_ENGINE").as_deref() {
            Ok("postgres") => Self::on_postgres().await,
            Ok("sqlite") | Err(_) => Self::on_sqlite(),
            Ok(other) => panic!("DIBBLE_TEST_ENGINE is sqlite or postgres, not {other}"),
        }
    }

    fn on_sqlite() -> Self {
        let folder = TempDir::new().expect("a temporary folder");
        let url = format!("sqlite://{}/test.sqlite", folder.path().display());
        Self { url: url.parse().expect("url"), _folder: Some(folder) }
    }

    async fn on_postgres() -> Self {
        let cluster = env::var("DIBBLE_TEST_POSTGRES_URL")
            .expect("DIBBLE_TEST_POSTGRES_URL names the cluster: postgres://user@host:port");
        let name = format!("dibble_{}", Uuid::now_v7().simple());
        let admin = Database::connect(format!("{cluster}/postgres")).await.expect("cluster");
        admin.execute_unprepared(&format!("CREATE DATABASE {name}")).await.expect("database");
        admin.close().await.expect("closed");
        Self { url: format!("{cluster}/{name}").parse().expect("url"), _folder: None }
    }
}
