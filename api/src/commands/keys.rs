//! `dibble keys`

use api::app::{App, Config};
use api::auth::keys::{self, KeyRow, PUBLISHED_BEFORE};
use api::config::Settings;
use chrono::{DateTime, SecondsFormat, TimeDelta, Utc};

use super::{BoxError, say};

/// What can be done with the keys that sign access tokens.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    /// List the keys and what each does.
    List(List),
    /// Make a new key. It is published at once and signs after a while; the old one checks its tokens until they expire.
    ///
    /// Nobody is signed out. Running services notice.
    Rotate(Rotate),
    /// Take a key out of use at once, because somebody else may have it.
    ///
    /// Access tokens that it signed stop working within a minute; sessions stay, and get new ones.
    Retire(Retire),
}

/// Which database.
#[derive(Debug, clap::Args)]
pub(crate) struct List {
    #[command(flatten)]
    settings: Settings,
}

/// When the new key signs.
#[derive(Debug, clap::Args)]
pub(crate) struct Rotate {
    /// Minutes for which the new key is published before it signs.
    #[arg(long, default_value_t = PUBLISHED_BEFORE.num_minutes(),
          value_parser = clap::value_parser!(i64).range(0..=10_080))]
    published_for: i64,
    #[command(flatten)]
    settings: Settings,
}

/// Which key.
#[derive(Debug, clap::Args)]
pub(crate) struct Retire {
    /// Name of the key, as listed.
    kid: String,
    #[command(flatten)]
    settings: Settings,
}

/// Does so and ends.
pub(crate) async fn run(command: Command) -> Result<(), BoxError> {
    match command {
        Command::List(List { settings }) => list(settings).await,
        Command::Rotate(arguments) => rotate(arguments).await,
        Command::Retire(arguments) => retire(arguments).await,
    }
}

async fn list(settings: Settings) -> Result<(), BoxError> {
    let state = App::state(&Config::of(settings)).await?;
    let now = state.clock.now();
    let signing = state.keys.signing(now).map(|key| key.kid);
    for key in keys::all(&state.db).await? {
        let does = told(&key, signing.as_deref(), now);
        say(&format!("{}  made {}  {does}", key.kid, time(key.created_at)));
    }
    Ok(())
}

/// What a key does now.
fn told(key: &KeyRow, signing: Option<&str>, now: DateTime<Utc>) -> String {
    match (key.retired_at, key.checks_until) {
        (Some(at), _) => format!("taken out of use {}", time(at)),
        (None, Some(until)) if until <= now => format!("over since {}", time(until)),
        (None, until) => {
            let does = if signing == Some(key.kid.as_str()) {
                "signs".to_owned()
            } else if key.signs_from > now {
                format!("signs from {}", time(key.signs_from))
            } else {
                "checks".to_owned()
            };
            let until = until.map(|until| format!(", checks until {}", time(until)));
            does + &until.unwrap_or_default()
        }
    }
}

async fn rotate(arguments: Rotate) -> Result<(), BoxError> {
    let Rotate { published_for, settings } = arguments;
    let lifetime = TimeDelta::seconds(i64::from(settings.token_lifetime));
    let state = App::state(&Config::of(settings)).await?;
    let now = state.clock.now();
    let signs_from = now + TimeDelta::minutes(published_for);
    let kid = keys::rotate(&state.db, now, signs_from, lifetime).await?;
    say(&format!("{kid} is published and signs from {}.", time(signs_from)));
    Ok(())
}

async fn retire(arguments: Retire) -> Result<(), BoxError> {
    let Retire { kid, settings } = arguments;
    let state = App::state(&Config::of(settings)).await?;
    let made = keys::retire(&state.db, state.clock.now(), &kid).await?;
    say(&format!("{kid} is out of use."));
    if let Some(made) = made {
        say(&format!("{made} signs in its place."));
    }
    Ok(())
}

fn time(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Secs, true)
}
