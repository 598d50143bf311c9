//! Connections to records systems in the database.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, PaginatorTrait,
    QueryFilter, Select,
};
use serde_json::Value;
use uuid::Uuid;

use crate::auth::role::Role;
use crate::auth::{Caller, CanConnect};
use crate::entities::records_links::{ActiveModel, Column, Entity, Model};
use crate::entities::records_runs;
use crate::http::etag::{self, Expected};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};
use crate::v1::author::Author;

/// Most links of a practice.
pub const MOST: u64 = 50;

/// Whose links are seen: the lead sees all of the practice, a records system those it made.
#[derive(Debug, Clone, Copy)]
pub struct Whose {
    practice_id: Uuid,
    only_by: Option<Uuid>,
}

impl Whose {
    /// The links that a caller sees.
    pub fn of(caller: &Caller<CanConnect>) -> Self {
        let only_by = (caller.role() != Role::Lead).then(|| caller.account_id());
        Self { practice_id: caller.practice_id(), only_by }
    }

    fn links(self) -> Select<Entity> {
        let rows = Entity::find().filter(Column::PracticeId.eq(self.practice_id));
        match self.only_by {
            Some(account_id) => rows.filter(Column::CreatedBy.eq(account_id)),
            None => rows,
        }
    }
}

/// A link to be stored.
#[derive(Debug)]
pub struct NewLink {
    /// Name.
    pub name: String,
    /// Short name of the records system.
    pub system: String,
    /// The profile, without the secret.
    pub profile: Value,
    /// The secret, sealed.
    pub sealed_secret: Option<String>,
    /// How often it is fetched without being asked.
    pub run_every_hours: Option<i32>,
    /// When that is next.
    pub next_run_at: Option<DateTime<Utc>>,
}

/// Changes to be stored: what is there afterwards.
#[derive(Debug)]
pub struct LinkChange {
    /// Name.
    pub name: String,
    /// The profile, where it changes.
    pub profile: Option<Value>,
    /// The secret, sealed.
    pub sealed_secret: Option<String>,
    /// How often it is fetched without being asked.
    pub run_every_hours: Option<i32>,
    /// When that is next.
    pub next_run_at: Option<DateTime<Utc>>,
}

/// Finds a link. Someone else's is not found.
pub async fn find(db: &impl ConnectionTrait, whose: Whose, id: Uuid) -> Result<Model, ApiError> {
    let found = whose.links().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("records link"))
}

/// A page of links.
pub async fn page(
    db: &impl ConnectionTrait,
    whose: Whose,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = page.of(whose.links(), Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// Stores a link.
///
/// # Errors
/// 409 when the practice has too many, or one of that name.
pub async fn insert(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    author: Author,
    new: NewLink,
) -> Result<Model, ApiError> {
    let there = Entity::find().filter(Column::PracticeId.eq(practice_id)).count(db).await?;
    if there >= MOST {
        let detail = format!("The practice has {MOST} links. Delete one that is no longer used.");
        return Err(ApiError::new(ProblemCode::WrongState, detail));
    }
    let NewLink { name, system, profile, sealed_secret, run_every_hours, next_run_at } = new;
    let row = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(author.id),
        name: Set(name),
        system: Set(system),
        profile: Set(profile),
        sealed_secret: Set(sealed_secret),
        remembered: Set(None),
        run_every_hours: Set(run_every_hours),
        next_run_at: Set(next_run_at),
        version: Set(1),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
        updated_at: Set(author.now),
    };
    Ok(row.insert(db).await?)
}

/// Stores changes if the row still has a version that is expected. A changed profile forgets what need not be fetched.
pub async fn update(
    db: &impl ConnectionTrait,
    before: &Model,
    expected: &Expected,
    now: DateTime<Utc>,
    change: LinkChange,
) -> Result<Model, ApiError> {
    expected.check(before.version)?;
    let LinkChange { name, profile, sealed_secret, run_every_hours, next_run_at } = change;
    let mut row = ActiveModel {
        name: Set(name),
        sealed_secret: Set(sealed_secret),
        run_every_hours: Set(run_every_hours),
        next_run_at: Set(next_run_at),
        version: Set(before.version + 1),
        updated_at: Set(now),
        ..Default::default()
    };
    if let Some(profile) = profile {
        row.profile = Set(profile);
        row.remembered = Set(None);
    }
    let done = Entity::update_many()
        .set(row)
        .filter(Column::PracticeId.eq(before.practice_id))
        .filter(Column::Id.eq(before.id))
        .filter(Column::Version.eq(before.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)?;
    let after = Entity::find_by_id((before.practice_id, before.id)).one(db).await?;
    after.ok_or_else(|| ApiError::not_found("records link"))
}

/// Deletes a link and its runs. The ids that it brought stay.
///
/// # Errors
/// 412 when it was changed meanwhile.
pub async fn delete(
    db: &impl ConnectionTrait,
    row: &Model,
    expected: &Expected,
) -> Result<(), ApiError> {
    expected.check(row.version)?;
    // Takes the row first, so that nobody asks for a run meanwhile.
    let held = Entity::update_many()
        .col_expr(Column::Version, Expr::value(row.version.saturating_add(1)))
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Version.eq(row.version))
        .exec(db)
        .await?;
    etag::one_row(held.rows_affected)?;
    records_runs::Entity::delete_many()
        .filter(records_runs::Column::PracticeId.eq(row.practice_id))
        .filter(records_runs::Column::LinkId.eq(row.id))
        .exec(db)
        .await?;
    Entity::delete_by_id((row.practice_id, row.id)).exec(db).await?;
    Ok(())
}
