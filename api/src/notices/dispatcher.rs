//! Notices as work of a process: a piece of it is all that one webhook has to do now.

use std::time::Duration;

use actix_web::web::Data;
use chrono::{DateTime, Utc};

use super::lease::{self, Held, due};
use super::round::round;
use super::sweep::sweep;
use crate::app::AppState;
use crate::clock::Clock;
use crate::http::ApiError;
use crate::workers::{Places, Waker, Work};

/// Webhooks that one process works at side by side. One whose receiver is slow has one of these places.
const PLACES: usize = 32;
/// How long the rounds under way may go on when the service ends; the rest is taken up by the next.
const LAST_TIME: Duration = Duration::from_secs(10);

/// Delivers the notices of a running service.
#[derive(Debug)]
pub struct Dispatcher(Data<AppState>);

impl Dispatcher {
    /// Of this service.
    pub fn of(app: Data<AppState>) -> Self {
        Self(app)
    }
}

impl Work for Dispatcher {
    type Piece = Held;

    fn name(&self) -> &'static str {
        "notices"
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
        &self.0.notices
    }

    async fn sweep(&self, now: DateTime<Utc>) -> Result<u64, ApiError> {
        sweep(&self.0.db, now).await
    }

    async fn take(
        &self,
        now: DateTime<Utc>,
        places: &mut Places<'_, Self>,
    ) -> Result<(), ApiError> {
        for webhook in due(&self.0.db, now, places.free_rows()).await? {
            if let Some(held) = lease::take(&self.0.db, webhook, now).await? {
                places.begin(held);
            }
        }
        Ok(())
    }

    async fn carry_out(&self, held: Held) {
        if let Err(error) = round(&self.0, &held).await {
            let webhook = held.webhook_id;
            tracing::warn!(%webhook, cause = error.chain(), "notices are not delivered");
        }
    }
}
