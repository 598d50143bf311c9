//! A round: all that one webhook has to do now.

use std::collections::HashMap;
use std::time::Duration;

use futures_util::future::join_all;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};

use super::due::{AT_ONCE, due};
use super::fan_out::{Read, fan_out};
use super::lease::{self, Held};
use super::message::{self, Message};
use super::outcome::Outcome;
use super::record::{self, Tried};
use super::send::Receiver;
use crate::app::AppState;
use crate::changes::Recorded;
use crate::entities::{changes, deliveries, webhooks};
use crate::http::ApiError;

/// Notices that are on their way to one receiver at the same time.
pub const PARALLEL: usize = 16;
/// After so long no more of them are begun: what came of the others must be stored well within the lease.
const LONG: Duration = Duration::from_secs(30);

/// Works at every webhook that has something to do, one after the other, until none has. For tests and tools; a
/// service has its [`Dispatcher`](super::Dispatcher).
///
/// # Errors
/// When the database fails.
pub async fn deliver_all_due(app: &AppState) -> Result<(), ApiError> {
    loop {
        let ready = lease::due(&app.db, app.clock.now(), AT_ONCE).await?;
        let mut worked = false;
        for webhook in ready {
            if let Some(held) = lease::take(&app.db, webhook, app.clock.now()).await? {
                worked = true;
                round(app, &held).await?;
            }
        }
        if !worked {
            return Ok(());
        }
    }
}

/// Does all that a webhook has to do now, and lets it go.
pub(super) async fn round(app: &AppState, held: &Held) -> Result<(), ApiError> {
    let worked = work(app, held).await;
    let held_back = if worked.is_err() { record::hold(app, held).await } else { Ok(()) };
    let let_go = record::let_go(app, held).await;
    worked.and(held_back).and(let_go)
}

async fn work(app: &AppState, held: &Held) -> Result<(), ApiError> {
    loop {
        let read = fan_out(app, held).await?;
        if read == Read::Lost {
            return Ok(());
        }
        let Some(webhook) = held.row(&app.db).await? else {
            return Ok(());
        };
        let due = due(&app.db, &webhook, app.clock.now()).await?;
        if due.is_empty() && read == Read::Whole {
            return Ok(());
        }
        if !due.is_empty() && !deliver(app, held, &webhook, due).await? {
            return Ok(());
        }
    }
}

/// Sends what is due, a few at a time, and stores what came of it. Says whether the webhook goes on.
async fn deliver(
    app: &AppState,
    held: &Held,
    webhook: &webhooks::Model,
    due: Vec<deliveries::Model>,
) -> Result<bool, ApiError> {
    let receiver = Receiver::of(app, webhook);
    let told = told(app, webhook, &due).await?;
    let began = app.clock.elapsed();
    let mut tried: Vec<Tried> = Vec::with_capacity(due.len());
    for some in due.chunks(if webhook.ordered { 1 } else { PARALLEL }) {
        let mut sending = Vec::with_capacity(some.len());
        for row in some {
            let message = message_of(app, webhook, row, &told)?;
            let receiver = &receiver;
            sending.push(async move {
                let outcome = receiver.send(app, message).await;
                let attempts = row.attempts.saturating_add(1);
                Tried { id: row.id, attempts, is_test: row.position.is_none(), outcome }
            });
        }
        let came = join_all(sending).await;
        // Whoever is down, or wants to be left alone, need not be asked for each of many; and an order must not be broken.
        let is_enough = !came.iter().any(|it| matches!(it.outcome, Outcome::Taken { .. }))
            || came.iter().any(|it| it.outcome.wants_no_more());
        tried.extend(came);
        if is_enough {
            break;
        }
        if app.clock.elapsed().saturating_sub(began) > LONG {
            break;
        }
    }
    record::record(app, held, &tried).await
}

/// The changes that the deliveries tell of, by position.
async fn told(
    app: &AppState,
    webhook: &webhooks::Model,
    due: &[deliveries::Model],
) -> Result<HashMap<i64, Recorded>, ApiError> {
    let rows = changes::Entity::find()
        .filter(changes::Column::PracticeId.eq(webhook.practice_id))
        .filter(changes::Column::Position.is_in(due.iter().filter_map(|row| row.position)))
        .all(&app.db)
        .await?;
    rows.into_iter().map(|row| Recorded::try_from(row).map(|told| (told.position, told))).collect()
}

fn message_of(
    app: &AppState,
    webhook: &webhooks::Model,
    row: &deliveries::Model,
    told: &HashMap<i64, Recorded>,
) -> Result<Message, ApiError> {
    let Some(position) = row.position else {
        return message::of_test(app, webhook.form, row);
    };
    let told = told.get(&position);
    let told = told.ok_or_else(|| ApiError::internal("a delivery tells of no change"))?;
    message::of_change(app, webhook.form, webhook.practice_id, told)
}
