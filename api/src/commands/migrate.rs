//! `dibble migrate`

use api::config::Settings;
use api::db;

use super::{BoxError, say};

/// Brings the schema up to date and ends.
pub(crate) async fn run(settings: &Settings) -> Result<(), BoxError> {
    let connection = db::open(settings).await?;
    db::migrate(&connection).await?;
    say(&format!("The schema of {} is up to date.", settings.database_url));
    Ok(())
}
