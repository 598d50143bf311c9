//! Jobs as work of a process.

use std::pin::Pin;
use std::time::Duration;

use actix_web::web::Data;
use chrono::{DateTime, Utc};

use super::finish::{fail, finish, sweep};
use super::lease::{Leased, any_due, lease};
use super::work::{Failure, carry_out};
use crate::app::AppState;
use crate::clock::Clock;
use crate::http::ApiError;
use crate::mail::schedule;
use crate::workers::{Places, Waker, Work};

/// Jobs that one process works at side by side.
pub const PLACES: usize = 4;
/// Longest that a handler may take: well within its lease.
const MOST_TIME: Duration = Duration::from_mins(1);
/// How long the work under way may go on when the service ends; the rest is taken up by the next.
const LAST_TIME: Duration = Duration::from_secs(10);

/// The jobs of a running service.
#[derive(Debug)]
pub struct Jobs(Data<AppState>);

impl Jobs {
    /// Of this service.
    pub fn of(app: Data<AppState>) -> Self {
        Self(app)
    }
}

impl Work for Jobs {
    type Piece = Leased;

    fn name(&self) -> &'static str {
        "jobs"
    }

    fn places(&self) -> usize {
        PLACES
    }

    fn last_time(&self) -> Duration {
        LAST_TIME
    }

    fn clock(&self) -> &dyn Clock {
        &*self.0.clock
    }

    fn waker(&self) -> &Waker {
        &self.0.jobs
    }

    async fn sweep(&self, now: DateTime<Utc>) -> Result<u64, ApiError> {
        sweep(&self.0.db, now).await
    }

    /// Puts digests that are due into the queue.
    async fn schedule(&self, _now: DateTime<Utc>) -> Result<(), ApiError> {
        schedule::enqueue_due(&self.0).await
    }

    async fn take(
        &self,
        now: DateTime<Utc>,
        places: &mut Places<'_, Self>,
    ) -> Result<(), ApiError> {
        if any_due(&self.0.db, now).await? {
            for leased in lease(&self.0.db, now, places.free_rows()).await? {
                places.begin(leased);
            }
        }
        Ok(())
    }

    async fn carry_out(&self, leased: Leased) {
        let work: Handling<'_> = Box::pin(carry_out(&self.0, &leased));
        attend(&self.0, &leased, work).await;
    }
}

type Handling<'a> = Pin<Box<dyn Future<Output = Result<(), Failure>> + Send + 'a>>;

/// Lets the handler of a leased job work, within its time, and marks what came of it.
pub async fn attend(
    app: &AppState,
    leased: &Leased,
    work: impl Future<Output = Result<(), Failure>>,
) {
    let job = &leased.job;
    let came = tokio::time::timeout(MOST_TIME, work).await;
    let came = came.unwrap_or_else(|_late| Err(Failure::Again("It took too long.".to_owned())));
    let now = app.clock.now();
    let marked = match &came {
        Ok(()) => finish(&app.db, leased, now).await,
        Err(failure) => {
            let (Failure::Again(why) | Failure::Never(why)) = failure;
            tracing::warn!(job = %job.id, kind = ?job.kind, attempt = job.attempts, why, "a job failed");
            fail(&app.db, leased, failure, now).await
        }
    };
    match marked {
        Ok(true) => {}
        Ok(false) => tracing::warn!(job = %job.id, "a job was taken over by somebody else"),
        Err(error) => tracing::warn!(job = %job.id, cause = error.chain(), "a job is not marked"),
    }
}
