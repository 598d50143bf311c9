//! From changes to deliveries.

use sea_orm::sea_query::{Expr, OnConflict};
use sea_orm::{ActiveEnum, ActiveValue::Set, ConnectionTrait, DatabaseTransaction, EntityTrait};
use uuid::Uuid;

use super::lease::Held;
use crate::app::AppState;
use crate::auth::Scope;
use crate::auth::role::Role;
use crate::changes::{self, ChangeType, Recorded};
use crate::db;
use crate::entities::deliveries::{ActiveModel, Column, DeliveryStatus, Entity};
use crate::entities::{accounts, webhooks};
use crate::http::ApiError;

/// Changes that become deliveries in one transaction.
const AT_ONCE: u16 = 500;

/// How far it came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Read {
    /// There is more to be read.
    More,
    /// All is read.
    Whole,
    /// The webhook is somebody else's now, or notices do not go out any more.
    Lost,
}

/// Turns the next changes into deliveries.
pub(super) async fn fan_out(app: &AppState, held: &Held) -> Result<Read, ApiError> {
    let tx = db::begin(&app.db).await?;
    if !held.keep(&tx, app.clock.now()).await? {
        return Ok(Read::Lost);
    }
    let Some(webhook) = held.row(&tx).await? else {
        return Ok(Read::Lost);
    };
    if !may_be_told(&tx, &webhook).await? {
        stop(&tx, app, held, webhook.version).await?;
        tx.commit().await?;
        return Ok(Read::Lost);
    }
    let scope = Scope::of_practice(webhook.practice_id);
    let types = types_of(&webhook)?;
    let page = changes::page(&tx, &scope, webhook.read_to, &types, AT_ONCE).await?;
    if page.next == webhook.read_to {
        return Ok(Read::Whole);
    }
    store(&tx, app, &webhook, &page.changes).await?;
    held.ours().col_expr(webhooks::Column::ReadTo, Expr::value(page.next)).exec(&tx).await?;
    tx.commit().await?;
    Ok(if page.more { Read::More } else { Read::Whole })
}

/// The types that are wanted. A newer version may have written one that this one does not know; it must read on.
fn types_of(webhook: &webhooks::Model) -> Result<Vec<ChangeType>, ApiError> {
    let types = webhook.types.split_whitespace().map(|wire| {
        ChangeType::named(wire)
            .ok_or_else(|| ApiError::internal(format!("no change is called {wire}")))
    });
    types.collect()
}

async fn store(
    tx: &DatabaseTransaction,
    app: &AppState,
    webhook: &webhooks::Model,
    told: &[Recorded],
) -> Result<(), ApiError> {
    if told.is_empty() {
        return Ok(());
    }
    let now = app.clock.now();
    let rows = told.iter().map(|it| ActiveModel {
        practice_id: Set(webhook.practice_id),
        id: Set(app.ids.next()),
        webhook_id: Set(webhook.id),
        position: Set(Some(it.position)),
        status: Set(DeliveryStatus::Waiting),
        attempts: Set(0),
        due_at: Set(now),
        last_status: Set(None),
        last_error: Set(None),
        created_at: Set(now),
        finished_at: Set(None),
    });
    // Of what is told again by a replay, some is there still.
    let once = OnConflict::columns([Column::PracticeId, Column::WebhookId, Column::Position])
        .do_nothing()
        .to_owned();
    Entity::insert_many(rows).on_conflict(once).exec_without_returning(tx).await?;
    Ok(())
}

/// Whether whoever made the webhook may still be told.
async fn may_be_told(
    db: &impl ConnectionTrait,
    webhook: &webhooks::Model,
) -> Result<bool, ApiError> {
    let key: (Uuid, Uuid) = (webhook.practice_id, webhook.made_by);
    let maker = accounts::Entity::find_by_id(key).one(db).await?;
    Ok(maker.is_some_and(|it| {
        it.disabled_at.is_none() && matches!(it.role, Role::Lead | Role::RecordsSystem)
    }))
}

async fn stop(
    tx: &DatabaseTransaction,
    app: &AppState,
    held: &Held,
    version: i32,
) -> Result<(), ApiError> {
    use webhooks::Column as Of;
    let why = "The account that made the webhook is shut out, or may not connect any more.";
    held.ours()
        .col_expr(Of::Status, Expr::value(webhooks::WebhookStatus::Stopped.to_value()))
        .col_expr(Of::StoppedBecause, Expr::value(why))
        .col_expr(Of::Version, Expr::value(version.saturating_add(1)))
        .col_expr(Of::UpdatedAt, Expr::value(app.clock.now()))
        .exec(tx)
        .await?;
    Ok(())
}
