//! Storing what came of tries, for many at once.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{ActiveEnum, ColumnTrait, DatabaseTransaction, EntityTrait, QueryFilter, UpdateMany};
use uuid::Uuid;

use super::due;
use super::lease::Held;
use super::outcome::{Outcome, Refusal};
use super::schedule::{PATIENCE, hold_after};
use crate::app::AppState;
use crate::db;
use crate::entities::deliveries::{Column, DeliveryStatus, Entity};
use crate::entities::webhooks::{self, WebhookStatus};
use crate::http::ApiError;

/// How long a webhook is left alone when the fault is ours.
const OUR_FAULT: TimeDelta = TimeDelta::minutes(1);

/// A delivery that was tried.
#[derive(Debug)]
pub(super) struct Tried {
    pub(super) id: Uuid,
    /// How often it was tried, this time too.
    pub(super) attempts: i32,
    /// Whether it is a test notice, which is tried once.
    pub(super) is_test: bool,
    pub(super) outcome: Outcome,
}

/// Stores what came of a few tries. Says whether the webhook goes on: it is ours still, and not held or stopped.
pub(super) async fn record(app: &AppState, held: &Held, tried: &[Tried]) -> Result<bool, ApiError> {
    let now = app.clock.now();
    let tx = db::begin(&app.db).await?;
    if !held.keep(&tx, now).await? {
        // Somebody else took over, and tells all of it again.
        return Ok(false);
    }
    let mut taken: BTreeMap<u16, Vec<Uuid>> = BTreeMap::new();
    let mut some_died = false;
    for it in tried {
        match &it.outcome {
            Outcome::Taken { status } => taken.entry(*status).or_default().push(it.id),
            Outcome::Refused(refusal) => some_died |= refuse(&tx, held, it, refusal, now).await?,
        }
    }
    for (status, ids) in &taken {
        take(&tx, held, *status, ids, now).await?;
    }
    let refused = tried.iter().filter_map(|it| match &it.outcome {
        Outcome::Refused(refusal) => Some(refusal),
        Outcome::Taken { .. } => None,
    });
    let goes_on = judge(&tx, held, !taken.is_empty(), refused, (some_died, now)).await?;
    tx.commit().await?;
    Ok(goes_on)
}

fn of(held: &Held) -> UpdateMany<Entity> {
    Entity::update_many()
        .filter(Column::PracticeId.eq(held.practice_id))
        .filter(Column::WebhookId.eq(held.webhook_id))
        .filter(Column::Status.eq(DeliveryStatus::Waiting))
}

async fn take(
    tx: &DatabaseTransaction,
    held: &Held,
    status: u16,
    ids: &[Uuid],
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    of(held)
        .filter(Column::Id.is_in(ids.iter().copied()))
        .col_expr(Column::Status, Expr::value(DeliveryStatus::Delivered.to_value()))
        .col_expr(Column::Attempts, Expr::col(Column::Attempts).add(1))
        .col_expr(Column::LastStatus, Expr::value(i32::from(status)))
        .col_expr(Column::LastError, Expr::value(None::<String>))
        .col_expr(Column::FinishedAt, Expr::value(now))
        .exec(tx)
        .await?;
    Ok(())
}

/// Says whether it is dead.
async fn refuse(
    tx: &DatabaseTransaction,
    held: &Held,
    tried: &Tried,
    refusal: &Refusal,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    let Tried { id, attempts, is_test, outcome: _ } = *tried;
    let next = refusal.next_try(attempts, now).filter(|_| !is_test);
    let change = of(held)
        .filter(Column::Id.eq(id))
        .col_expr(Column::Attempts, Expr::value(attempts))
        .col_expr(Column::LastStatus, Expr::value(refusal.status.map(i32::from)))
        .col_expr(Column::LastError, Expr::value(refusal.why.as_str()));
    let change = match next {
        Some(due_at) => change.col_expr(Column::DueAt, Expr::value(due_at)),
        None => change
            .col_expr(Column::Status, Expr::value(DeliveryStatus::Dead.to_value()))
            .col_expr(Column::FinishedAt, Expr::value(now)),
    };
    change.exec(tx).await?;
    Ok(next.is_none())
}

/// Holds the webhook back, or stops it, by what its receiver does. Says whether it goes on.
async fn judge<'a>(
    tx: &DatabaseTransaction,
    held: &Held,
    some_taken: bool,
    refused: impl Iterator<Item = &'a Refusal>,
    (some_died, now): (bool, DateTime<Utc>),
) -> Result<bool, ApiError> {
    use webhooks::Column as Of;
    let Some(row) = held.row(tx).await? else {
        return Ok(false);
    };
    let refused: Vec<&Refusal> = refused.collect();
    let stay_away = refused.iter().filter_map(|it| it.stay_away).max();
    let (failures, failing_since) = match (some_taken, refused.is_empty()) {
        (true, _) => (0, None),
        (false, true) => (row.failures, row.failing_since),
        (false, false) => (row.failures.saturating_add(1), row.failing_since.or(Some(now))),
    };
    let pause = stay_away.or((!some_taken && !refused.is_empty()).then(|| hold_after(failures)));
    let gone = refused.iter().find(|it| it.is_gone).map(|it| it.why.as_str());
    let hopeless = some_died && failing_since.is_some_and(|since| now - since >= PATIENCE);
    let why = gone.or(hopeless.then_some("Nothing got through for three days."));
    let mut change = held
        .ours()
        .col_expr(Of::Failures, Expr::value(failures))
        .col_expr(Of::FailingSince, Expr::value(failing_since))
        .col_expr(Of::HeldUntil, Expr::value(pause.map(|wait| now + wait)));
    if let Some(why) = why {
        change = change
            .col_expr(Of::Status, Expr::value(WebhookStatus::Stopped.to_value()))
            .col_expr(Of::StoppedBecause, Expr::value(why))
            .col_expr(Of::Version, Expr::value(row.version.saturating_add(1)))
            .col_expr(Of::UpdatedAt, Expr::value(now));
    }
    change.exec(tx).await?;
    Ok(pause.is_none() && why.is_none())
}

/// Leaves a webhook alone for a while, where the fault is ours.
pub(super) async fn hold(app: &AppState, held: &Held) -> Result<(), ApiError> {
    let until = Expr::value(app.clock.now() + OUR_FAULT);
    held.ours().col_expr(webhooks::Column::HeldUntil, until).exec(&app.db).await?;
    Ok(())
}

/// Lets a webhook go, and notes when something is due next.
pub(super) async fn let_go(app: &AppState, held: &Held) -> Result<(), ApiError> {
    let tx = db::begin(&app.db).await?;
    // First, so that a replay that is committed meanwhile is seen.
    if !held.keep(&tx, app.clock.now()).await? {
        return Ok(());
    }
    let key = (held.practice_id, held.webhook_id);
    let Some(row) = webhooks::Entity::find_by_id(key).one(&tx).await? else {
        return Ok(());
    };
    let next = due::next(&tx, &row).await?;
    held.ours()
        .col_expr(webhooks::Column::DueAt, Expr::value(next))
        .col_expr(webhooks::Column::Lease, Expr::value(None::<Uuid>))
        .col_expr(webhooks::Column::LeasedUntil, Expr::value(None::<DateTime<Utc>>))
        .exec(&tx)
        .await?;
    tx.commit().await?;
    Ok(())
}
