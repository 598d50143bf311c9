//! What workers need to know of their work.

use std::time::Duration;

use chrono::{DateTime, Utc};

use super::places::Places;
use super::waker::Waker;
use crate::clock::Clock;
use crate::http::ApiError;

/// A kind of work.
pub trait Work: Send + Sync + Sized + 'static {
    /// A piece of it that this process holds.
    type Piece: Send + 'static;

    /// What it is called in the log.
    fn name(&self) -> &'static str;

    /// How many pieces this process works at side by side.
    fn places(&self) -> usize;

    /// How long the pieces under way may go on when the service ends.
    fn last_time(&self) -> Duration;

    /// The time.
    fn clock(&self) -> &dyn Clock;

    /// Wakes the workers.
    fn waker(&self) -> &Waker;

    /// Deletes what came to its end long ago; done once an hour.
    fn sweep(&self, now: DateTime<Utc>) -> impl Future<Output = Result<u64, ApiError>> + Send;

    /// Makes work of what has become due by the clock; done at each look, before work is taken.
    fn schedule(&self, _now: DateTime<Utc>) -> impl Future<Output = Result<(), ApiError>> + Send {
        std::future::ready(Ok(()))
    }

    /// Takes what is due, as much as there are places, so that nobody else takes it meanwhile. Each piece is begun as
    /// soon as it has its place: what fails afterwards takes none away again.
    fn take(
        &self,
        now: DateTime<Utc>,
        places: &mut Places<'_, Self>,
    ) -> impl Future<Output = Result<(), ApiError>> + Send;

    /// Carries a piece out and marks what came of it.
    fn carry_out(&self, piece: Self::Piece) -> impl Future<Output = ()> + Send;
}
