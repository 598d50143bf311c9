//! Webhooks in the database.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::{
    ActiveEnum, ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait,
    PaginatorTrait, QueryFilter, Select,
};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::role::Role;
use crate::auth::{Caller, CanConnect};
use crate::changes;
use crate::entities::deliveries;
use crate::entities::webhooks::{ActiveModel, Column, Entity, Model, NoticeForm, WebhookStatus};
use crate::http::etag::{self, Expected};
use crate::http::page::PageRequest;
use crate::http::{ApiError, BadMember, ProblemCode};
use crate::notices::signature;

/// Most webhooks of a practice.
const MOST: u64 = 50;

/// A webhook to be stored.
#[derive(Debug)]
pub(super) struct NewWebhook {
    /// Name.
    pub(super) name: String,
    /// Address.
    pub(super) url: String,
    /// Types, split by spaces.
    pub(super) types: String,
    /// Form.
    pub(super) form: NoticeForm,
    /// Whether it is ordered.
    pub(super) ordered: bool,
    /// After which change it begins.
    pub(super) after: Option<i64>,
}

/// Changes to be stored.
#[derive(Debug)]
pub(super) struct WebhookChange {
    /// Name.
    pub(super) name: Option<String>,
    /// Address.
    pub(super) url: Option<String>,
    /// Types, split by spaces.
    pub(super) types: Option<String>,
    /// Form.
    pub(super) form: Option<NoticeForm>,
    /// Whether it is ordered.
    pub(super) ordered: Option<bool>,
}

/// The webhooks that a caller sees: the lead all, a records system its own.
fn seen(caller: &Caller<CanConnect>) -> Select<Entity> {
    let rows = Entity::find().filter(Column::PracticeId.eq(caller.practice_id()));
    match caller.role() {
        Role::Lead => rows,
        _ => rows.filter(Column::MadeBy.eq(caller.account_id())),
    }
}

/// Finds a webhook. Someone else's is not found.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    caller: &Caller<CanConnect>,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = seen(caller).filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("webhook"))
}

/// A page of webhooks.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    caller: &Caller<CanConnect>,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = page.of(seen(caller), Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// Stores a webhook; gives its secret too.
pub(super) async fn insert(
    db: &impl ConnectionTrait,
    app: &AppState,
    caller: &Caller<CanConnect>,
    new: NewWebhook,
) -> Result<(Model, String), ApiError> {
    let practice_id = caller.practice_id();
    let there = Entity::find().filter(Column::PracticeId.eq(practice_id)).count(db).await?;
    if there >= MOST {
        let detail =
            format!("A practice has at most {MOST} webhooks. Delete one that is not needed.");
        return Err(ApiError::new(ProblemCode::WrongState, detail));
    }
    let NewWebhook { name, url, types, form, ordered, after } = new;
    let read_to = begin(db, practice_id, after).await?;
    let (secret, now) = (signature::new_secret(), app.clock.now());
    let row = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(app.ids.next()),
        made_by: Set(caller.account_id()),
        name: Set(name),
        url: Set(url),
        types: Set(types),
        form: Set(form),
        ordered: Set(ordered),
        status: Set(WebhookStatus::Active),
        stopped_because: Set(None),
        secret: Set(app.sealer.seal(practice_id, &secret)?),
        secret_before: Set(None),
        secret_before_until: Set(None),
        read_to: Set(read_to),
        due_at: Set(None),
        held_until: Set(None),
        failures: Set(0),
        failing_since: Set(None),
        lease: Set(None),
        leased_until: Set(None),
        version: Set(1),
        created_at: Set(now),
        updated_at: Set(now),
    };
    Ok((row.insert(db).await?, secret))
}

/// After which change it begins: the last one, or the one that was asked for.
async fn begin(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    after: Option<i64>,
) -> Result<i64, ApiError> {
    let last = changes::last_position(db, practice_id).await?;
    let after = after.unwrap_or(last);
    if (0..=last).contains(&after) {
        return Ok(after);
    }
    Err(BadMember::new("/after", "There is no change at this position.")
        .given(after)
        .allowed(format!("0 to {last}"))
        .into())
}

/// Stores changes if the row still has a version that is expected.
pub(super) async fn update(
    db: &impl ConnectionTrait,
    before: &Model,
    expected: &Expected,
    now: DateTime<Utc>,
    change: WebhookChange,
) -> Result<(), ApiError> {
    expected.check(before.version)?;
    let WebhookChange { name, url, types, form, ordered } = change;
    let row = ActiveModel {
        name: name.map(Set).unwrap_or_default(),
        url: url.map(Set).unwrap_or_default(),
        types: types.map(Set).unwrap_or_default(),
        form: form.map(Set).unwrap_or_default(),
        ordered: ordered.map(Set).unwrap_or_default(),
        ..Default::default()
    };
    write(db, before, row, now).await
}

/// Deletes a webhook and its deliveries.
pub(super) async fn delete(
    db: &impl ConnectionTrait,
    before: &Model,
    expected: &Expected,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    expected.check(before.version)?;
    // Takes the row first, so that nobody adds a delivery meanwhile.
    write(db, before, ActiveModel { ..Default::default() }, now).await?;
    deliveries::Entity::delete_many()
        .filter(deliveries::Column::PracticeId.eq(before.practice_id))
        .filter(deliveries::Column::WebhookId.eq(before.id))
        .exec(db)
        .await?;
    Entity::delete_by_id((before.practice_id, before.id)).exec(db).await?;
    Ok(())
}

/// Makes another secret; the one before signs too for a while.
pub(super) async fn rotate(
    db: &impl ConnectionTrait,
    app: &AppState,
    before: &Model,
    overlap_hours: u16,
) -> Result<(String, Option<DateTime<Utc>>), ApiError> {
    let (secret, now) = (signature::new_secret(), app.clock.now());
    let until = now + TimeDelta::hours(i64::from(overlap_hours));
    let until = (until > now).then_some(until);
    let row = ActiveModel {
        secret: Set(app.sealer.seal(before.practice_id, &secret)?),
        secret_before: Set(until.map(|_| before.secret.clone())),
        secret_before_until: Set(until),
        ..Default::default()
    };
    write(db, before, row, now).await?;
    Ok((secret, until))
}

/// Lets changes wait.
///
/// # Errors
/// 409 when notices do not go out anyway.
pub(super) async fn pause(
    db: &impl ConnectionTrait,
    before: &Model,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    active(before)?;
    let row = ActiveModel { status: Set(WebhookStatus::Paused), ..Default::default() };
    write(db, before, row, now).await
}

/// Lets notices go out again, from where they ended.
///
/// # Errors
/// 409 when they do go out.
pub(super) async fn resume(
    db: &impl ConnectionTrait,
    before: &Model,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    if before.status == WebhookStatus::Active {
        return Err(ApiError::new(ProblemCode::WrongState, "The webhook is active already."));
    }
    let row = ActiveModel {
        status: Set(WebhookStatus::Active),
        stopped_because: Set(None),
        due_at: Set(Some(now)),
        held_until: Set(None),
        failures: Set(0),
        failing_since: Set(None),
        ..Default::default()
    };
    write(db, before, row, now).await
}

/// Refuses a webhook whose notices do not go out.
///
/// # Errors
/// 409.
pub(super) fn active(row: &Model) -> Result<(), ApiError> {
    if row.status == WebhookStatus::Active {
        return Ok(());
    }
    let status = row.status.to_value();
    let detail = format!("The webhook is {status}: no notices go out. Resume it first.");
    Err(ApiError::new(ProblemCode::WrongState, detail))
}

/// Has its deliveries looked at now, whatever it is held for; with a position, changes are read from there. It is no
/// new version: nothing of what a caller sets is another.
pub(super) async fn hurry(
    db: &impl ConnectionTrait,
    row: &Model,
    now: DateTime<Utc>,
    read_to: Option<i64>,
) -> Result<(), ApiError> {
    let change = ActiveModel {
        due_at: Set(Some(now)),
        held_until: Set(None),
        read_to: read_to.map(Set).unwrap_or_default(),
        ..Default::default()
    };
    Entity::update_many()
        .set(change)
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .exec(db)
        .await?;
    Ok(())
}

/// The position after which all is told again: never later than what is told already.
pub(super) async fn replay_after(
    db: &impl ConnectionTrait,
    row: &Model,
    after: i64,
) -> Result<i64, ApiError> {
    Ok(begin(db, row.practice_id, Some(after)).await?.min(row.read_to))
}

/// Writes the row as the next version, if nobody was faster; holds it until the transaction ends.
async fn write(
    db: &impl ConnectionTrait,
    before: &Model,
    mut row: ActiveModel,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    row.version = Set(before.version.saturating_add(1));
    row.updated_at = Set(now);
    let done = Entity::update_many()
        .set(row)
        .filter(Column::PracticeId.eq(before.practice_id))
        .filter(Column::Id.eq(before.id))
        .filter(Column::Version.eq(before.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}
