//! Runs as work of a process.

use std::time::Duration;

use actix_web::web::Data;
use chrono::{DateTime, TimeDelta, Utc};

use super::carry_out::carry_out;
use super::lease::{self, Held};
use super::{schedule, store};
use crate::app::AppState;
use crate::clock::Clock;
use crate::http::ApiError;
use crate::workers::{Places, Waker, Work};

/// Runs that one process works at side by side.
const PLACES: usize = 2;
/// How often a lease is renewed.
const RENEWED_EVERY: Duration = Duration::from_secs(20);
/// How long it is kept what came of a run.
const KEPT_FOR: TimeDelta = TimeDelta::days(30);

/// The runs of a running service.
#[derive(Debug)]
pub struct Runner(Data<AppState>);

impl Runner {
    /// Of this service.
    pub fn of(app: Data<AppState>) -> Self {
        Self(app)
    }
}

impl Work for Runner {
    type Piece = Held;

    fn name(&self) -> &'static str {
        "runs"
    }

    fn places(&self) -> usize {
        PLACES
    }

    /// None: a run takes long, is begun anew by the next start, and has taken nothing so far.
    fn last_time(&self) -> Duration {
        Duration::ZERO
    }

    fn clock(&self) -> &dyn Clock {
        &*self.0.clock
    }

    fn waker(&self) -> &Waker {
        &self.0.runs
    }

    async fn sweep(&self, now: DateTime<Utc>) -> Result<u64, ApiError> {
        store::sweep(&self.0.db, now - KEPT_FOR).await
    }

    /// Asks for runs of the links whose time has come.
    async fn schedule(&self, now: DateTime<Utc>) -> Result<(), ApiError> {
        schedule::ask_for_due(&self.0, now).await
    }

    async fn take(
        &self,
        now: DateTime<Utc>,
        places: &mut Places<'_, Self>,
    ) -> Result<(), ApiError> {
        while places.free() > 0 {
            let Some(held) = lease::take(&self.0.db, now).await? else { break };
            places.begin(held);
        }
        Ok(())
    }

    async fn carry_out(&self, held: Held) {
        attend(&self.0, &held).await;
    }
}

/// Does all runs that are due, one after the other; says how many.
///
/// # Errors
/// When the database fails.
pub async fn work_off(app: &AppState) -> Result<u32, ApiError> {
    schedule::ask_for_due(app, app.clock.now()).await?;
    let mut done: u32 = 0;
    while let Some(held) = lease::take(&app.db, app.clock.now()).await? {
        attend(app, &held).await;
        done = done.saturating_add(1);
    }
    Ok(done)
}

/// Works at a run and keeps the lease on it meanwhile.
async fn attend(app: &AppState, held: &Held) {
    // On the heap: what is carried is too large to be passed on by value.
    let work = Box::pin(carry_out(app, held));
    tokio::select! {
        done = work => {
            if let Err(error) = done {
                tracing::warn!(run = %held.run.id, cause = error.chain(), "a run is not ended");
            }
        }
        () = keep(app, held) => {
            tracing::warn!(run = %held.run.id, "a run was taken over by somebody else, or deleted");
        }
    }
}

/// Renews the lease until it is lost.
async fn keep(app: &AppState, held: &Held) {
    loop {
        tokio::time::sleep(RENEWED_EVERY).await;
        match held.renew(&app.db, app.clock.now()).await {
            Ok(true) => {}
            Ok(false) => return,
            Err(error) => tracing::warn!(cause = error.chain(), "a lease is not renewed"),
        }
    }
}
