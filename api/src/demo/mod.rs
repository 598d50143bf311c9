//! A season that can be looked at: an invented practice with growers, fields, planters and digs.

use crate::app::StartError;
use crate::config::Settings;

/// Fills an empty database with the invented practice and serves it on `settings.address`.
///
/// What it needs is ready: [`crate::app::App::build`] with a [`crate::clock::FixedClock`] that can
/// be moved on between the steps of the season, and [`crate::auth::accounts`] to make the practice
/// and its accounts.
///
/// # Errors
/// [`StartError::NotReady`] until the demo is written.
pub async fn run(settings: Settings) -> Result<(), StartError> {
    std::future::ready(settings).await;
    Err(StartError::NotReady("the demo is not written yet"))
}
