//! The workers of a process: one loop that takes jobs and lets a few of them run side by side.

use std::pin::Pin;
use std::time::Duration;

use actix_web::web::Data;
use chrono::{DateTime, TimeDelta, Utc};
use tokio::sync::watch;
use tokio::task::{JoinHandle, JoinSet};

use super::finish::{fail, finish, sweep};
use super::lease::{Leased, any_due, lease};
use super::work::{Failure, carry_out};
use crate::app::AppState;
use crate::http::ApiError;
use crate::mail::schedule;

/// Jobs that one process works at side by side.
pub const SLOTS: usize = 4;
/// Longest that a handler may take: well within its lease.
const MOST_TIME: Duration = Duration::from_mins(1);
/// How long the work under way may go on when the service ends; the rest is taken up by the next.
const LAST_TIME: Duration = Duration::from_secs(10);
/// How often what was done long ago is swept out.
const SWEPT_EVERY: TimeDelta = TimeDelta::hours(1);

/// The workers of a running service.
#[derive(Debug)]
pub struct Workers {
    stop: watch::Sender<bool>,
    task: JoinHandle<()>,
}

impl Workers {
    /// Starts them; they look for work at least this often.
    pub fn start(app: Data<AppState>, look_every: Duration) -> Self {
        let (stop, stopped) = watch::channel(false);
        Self { stop, task: tokio::spawn(run(app, look_every, stopped)) }
    }

    /// Ends them, after the work under way.
    pub async fn stop(self) {
        self.stop.send_replace(true);
        if let Err(error) = self.task.await {
            tracing::warn!(%error, "the workers broke");
        }
    }
}

async fn run(app: Data<AppState>, look_every: Duration, mut stopped: watch::Receiver<bool>) {
    let mut at_work = JoinSet::new();
    let mut next_sweep = app.clock.now();
    loop {
        while at_work.try_join_next().is_some() {}
        if let Err(error) = look(&app, &mut at_work, &mut next_sweep).await {
            tracing::warn!(cause = error.chain(), "the workers can't look for work");
        }
        tokio::select! {
            // Also when nobody holds the service any more.
            _ = stopped.changed() => break,
            () = app.jobs.woken() => {}
            _ = at_work.join_next(), if !at_work.is_empty() => {}
            () = tokio::time::sleep(look_every) => {}
        }
    }
    let last = async { while at_work.join_next().await.is_some() {} };
    if tokio::time::timeout(LAST_TIME, last).await.is_err() {
        tracing::info!("work under way is left to the next start");
    }
}

/// Puts digests that are due into the queue and fills the free slots.
async fn look(
    app: &Data<AppState>,
    at_work: &mut JoinSet<()>,
    next_sweep: &mut DateTime<Utc>,
) -> Result<(), ApiError> {
    let now = app.clock.now();
    if now >= *next_sweep {
        *next_sweep = now + SWEPT_EVERY;
        sweep(&app.db, now).await?;
    }
    schedule::enqueue_due(app).await?;
    let free = u64::try_from(SLOTS.saturating_sub(at_work.len())).unwrap_or(0);
    if free == 0 || !any_due(&app.db, now).await? {
        return Ok(());
    }
    for leased in lease(&app.db, now, free).await? {
        let app = app.clone();
        at_work.spawn(async move {
            let work: Work<'_> = Box::pin(carry_out(&app, &leased));
            attend(&app, &leased, work).await;
        });
    }
    Ok(())
}

type Work<'a> = Pin<Box<dyn Future<Output = Result<(), Failure>> + Send + 'a>>;

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
