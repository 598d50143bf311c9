//! One look for work.

use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};
use tokio::task::JoinSet;

use super::places::Places;
use super::work::Work;
use crate::http::ApiError;

/// How often what came to its end long ago is swept out.
const SWEPT_EVERY: TimeDelta = TimeDelta::hours(1);

/// Looks for work, again and again.
#[derive(Debug)]
pub(super) struct Look<W> {
    work: Arc<W>,
    next_sweep: DateTime<Utc>,
}

impl<W: Work> Look<W> {
    pub(super) fn of(work: Arc<W>) -> Self {
        let next_sweep = work.clock().now();
        Self { work, next_sweep }
    }

    /// Sweeps, schedules, and fills the free places. None of them waits for what another one needs.
    pub(super) async fn look(&mut self, at_work: &mut JoinSet<()>) {
        let (work, now) = (self.work.clone(), self.work.clock().now());
        if now >= self.next_sweep {
            self.next_sweep = now + SWEPT_EVERY;
            self.warn("sweep", work.sweep(now).await.map(drop));
        }
        self.warn("schedule", work.schedule(now).await);
        let mut places = Places::of(&self.work, at_work);
        if places.free() > 0 {
            let taken = work.take(now, &mut places).await;
            self.warn("take", taken);
        }
    }

    fn warn(&self, step: &'static str, done: Result<(), ApiError>) {
        if let Err(error) = done {
            let work = self.work.name();
            tracing::warn!(work, step, cause = error.chain(), "the workers can't look for work");
        }
    }
}
