//! A season that can be looked at: an invented practice with growers, fields, planters and digs.
//!
//! `scenario` says who and what there is, `truth` how it really is, `season` lets it happen through
//! the service, and `walk` tells one field step by step and checks each step. Nothing that the
//! service works out is written down here.

mod accounts;
mod client;
mod dice;
mod error;
mod files;
mod greeting;
mod scenario;
mod season;
mod truth;
mod walk;
mod wire;

use std::io::Write;
use std::net::SocketAddr;
use std::path::PathBuf;
use std::sync::Arc;

use crate::app::{App, Config, Running, StartError};
use crate::clock::FixedClock;
use crate::config::Settings;

pub use error::DemoError;
pub use greeting::lines_to_try;
pub use season::Told;
pub use walk::Outcome;

/// Where the demo lives.
#[derive(Debug, Clone)]
pub struct Options {
    /// Folder of its database.
    pub dir: PathBuf,
    /// Where it listens when the season is told.
    pub address: SocketAddr,
}

/// Tells the season into a fresh database, greets, and serves until a signal ends it.
///
/// # Errors
/// When the files, the address or the service fail.
pub async fn run(options: &Options, out: &mut (dyn Write + Send)) -> Result<(), DemoError> {
    let (running, told) = ready(options).await?;
    greeting::greet(running.address, &told, out)?;
    Ok(running.wait().await?)
}

/// Tells the season into a fresh database and serves it on the address of the options, by the
/// computer's clock.
///
/// # Errors
/// When the files, the address or the service fail.
pub async fn ready(options: &Options) -> Result<(Running, Told), DemoError> {
    address_is_free(options.address)?;
    let settings = files::fresh(&options.dir, DATABASE)?;
    let (running, clock) = on_a_clock(settings.clone()).await?;
    let told = season::tell(&running, &clock).await?;
    running.stop().await?;
    let settings = Settings { address: options.address, ..settings };
    Ok((App::build(Config::of(settings)).await?, told))
}

/// Says so before the season is told, not after, when somebody else listens there.
fn address_is_free(address: SocketAddr) -> Result<(), StartError> {
    let tried = std::net::TcpListener::bind(address);
    tried.map(drop).map_err(|source| StartError::Server { address, source })
}

/// Name of the database of the season.
const DATABASE: &str = "demo.sqlite";

/// A service whose clock is set by the story.
async fn on_a_clock(settings: Settings) -> Result<(Running, Arc<FixedClock>), DemoError> {
    let clock = Arc::new(FixedClock::new(season::opening()));
    let running = App::build(Config::with_clock(settings, clock.clone())).await?;
    Ok((running, clock))
}

/// Name of the database of the walk.
const WALK: &str = "walk.sqlite";

/// Walks through the main job on a fresh database of its own, step by step.
///
/// # Errors
/// When the files or the service fail, or an answer is so wrong that the walk cannot go on. A step
/// that did not hold is counted in the outcome.
pub async fn walk(options: &Options, out: &mut (dyn Write + Send)) -> Result<Outcome, DemoError> {
    let settings = files::fresh(&options.dir, WALK)?;
    let (running, clock) = on_a_clock(settings).await?;
    let outcome = walk::tell(&running, clock, out).await;
    running.stop().await?;
    outcome
}
