//! The connection to the database, and its schema.

use std::path::Path;
use std::time::Duration;

use migrations::{Migrator, MigratorTrait};
use sea_orm::{
    ConnectOptions, ConnectionTrait, Database, DatabaseConnection, DatabaseTransaction, DbErr,
    SqliteTransactionMode, TransactionOptions, TransactionTrait,
};

use crate::config::{Engine, Settings};

/// Why the database could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// The folder of the SQLite file could not be made.
    #[error("the folder {folder:?} for the database could not be made")]
    Folder {
        /// The folder.
        folder: String,
        /// What the operating system said.
        source: std::io::Error,
    },
    /// The database did not answer, or refused.
    #[error("the database could not be opened")]
    Database(#[from] DbErr),
}

/// Opens the database; an SQLite file and its folder are made when they are not there.
pub async fn open(settings: &Settings) -> Result<DatabaseConnection, OpenError> {
    make_folder(settings)?;
    let mut options = ConnectOptions::new(settings.database_url.secret());
    options
        .max_connections(settings.database_connections)
        .min_connections(1)
        .acquire_timeout(Duration::from_secs(10))
        .sqlx_logging(false);
    match settings.database_url.engine() {
        Engine::Sqlite => sqlite_options(&mut options, settings),
        Engine::Postgres => {
            options.set_application_name("dibble").statement_timeout(Duration::from_secs(30));
        }
    }
    Ok(Database::connect(options).await?)
}

/// Applies the steps of the schema that are not there yet.
pub async fn migrate(db: &DatabaseConnection) -> Result<(), DbErr> {
    Migrator::up(db, None).await
}

/// Whether the database answers and has every step of the schema.
pub async fn is_ready(db: &DatabaseConnection) -> bool {
    let pending = Migrator::get_pending_migrations_read_only(db).await;
    matches!(pending, Ok(steps) if steps.is_empty())
}

/// Begins a transaction that will write.
///
/// SQLite has one writer. Taking the write lock at the start makes a second writer wait its turn;
/// taking it later, after a read, would make it fail.
pub async fn begin(db: &DatabaseConnection) -> Result<DatabaseTransaction, DbErr> {
    db.begin_with_options(TransactionOptions {
        sqlite_transaction_mode: Some(SqliteTransactionMode::Immediate),
        ..TransactionOptions::default()
    })
    .await
}

/// Whether the tables hold no account yet: the first start.
pub async fn has_no_account(db: &impl ConnectionTrait) -> Result<bool, DbErr> {
    use sea_orm::{EntityTrait, QuerySelect};
    let first = crate::entities::accounts::Entity::find().limit(1).one(db).await?;
    Ok(first.is_none())
}

fn make_folder(settings: &Settings) -> Result<(), OpenError> {
    let Some(folder) =
        settings.database_url.sqlite_path().and_then(|path| Path::new(path).parent())
    else {
        return Ok(());
    };
    std::fs::create_dir_all(folder)
        .map_err(|source| OpenError::Folder { folder: folder.display().to_string(), source })
}

fn sqlite_options(options: &mut ConnectOptions, settings: &Settings) {
    if settings.database_url.sqlite_path().is_none() {
        options.max_connections(1); // in memory, each connection would be a database of its own
    }
    options.map_sqlx_sqlite_opts(|sqlite| {
        sqlite
            .create_if_missing(true)
            .foreign_keys(true)
            .busy_timeout(Duration::from_secs(5))
            .pragma("journal_mode", "WAL")
            .pragma("synchronous", "FULL")
    });
}
