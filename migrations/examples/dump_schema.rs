//! Prints the SQLite schema: `cargo run -p migrations --example dump_schema > migrations/schema.sql`.
#![expect(clippy::print_stdout, reason = "printing is what this program is for")]

use migrations::{Migrator, MigratorTrait, sqlite_schema};
use sea_orm_migration::sea_orm::{ConnectOptions, Database};

#[tokio::main]
async fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut options = ConnectOptions::new("sqlite::memory:");
    options.max_connections(1); // each connection would be a database of its own
    let db = Database::connect(options).await?;
    Migrator::up(&db, None).await?;
    print!("{}", sqlite_schema(&db).await?);
    Ok(())
}
