//! `dibble serve`

use api::app::{App, Config};
use api::config::Settings;
use api::{db, telemetry};

use super::{BoxError, say};

/// Serves until a signal ends it.
pub(crate) async fn run(settings: Settings) -> Result<(), BoxError> {
    telemetry::start(&settings.log, settings.log_format);
    let database = settings.database_url.to_string();
    let running = App::build(Config::of(settings)).await?;
    tracing::info!(address = %running.address, database, "dibble is ready");
    if db::has_no_account(&running.state.db).await? {
        say("Nobody can sign in yet. Make the first account, in another terminal:\n  \
             dibble account add --practice \"Our practice\" --email you@example.org \
             --name \"Your name\" --role lead");
    }
    Ok(running.wait().await?)
}
