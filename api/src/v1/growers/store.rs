//! Growers in the database. Every query starts from the caller's scope.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use crate::auth::permission::Permission;
use crate::auth::{CanAdvise, Scope, Sees};
use crate::entities::{accounts, growers};
use crate::exchange::intake;
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::prefix::Prefix;
use crate::http::{ApiError, BadMember, Patch};

/// A grower to be stored.
#[derive(Debug)]
pub struct NewGrower {
    /// Name.
    pub name: String,
    /// Account of the advisor.
    pub advisor_id: Option<Uuid>,
    /// Telephone number.
    pub phone: Option<String>,
    /// E-mail address.
    pub email: Option<String>,
    /// Notes.
    pub notes: Option<String>,
}

/// Changes to be stored.
#[derive(Debug)]
pub struct GrowerChange {
    /// Name.
    pub name: Option<String>,
    /// Account of the advisor.
    pub advisor_id: Patch<Uuid>,
    /// Telephone number.
    pub phone: Patch<String>,
    /// E-mail address.
    pub email: Patch<String>,
    /// Notes.
    pub notes: Patch<String>,
}

/// Finds a grower in scope. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<growers::Model, ApiError> {
    let found = scope.growers().filter(growers::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("grower"))
}

/// Whether a grower named in a body is in scope.
pub async fn check_reference(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<(), ApiError> {
    let found = scope.growers().filter(growers::Column::Id.eq(id)).one(db).await?;
    match found {
        Some(_) => Ok(()),
        None => Err(BadMember::new("/grower_id", "There is no such grower.").given(id).into()),
    }
}

/// A page of the growers in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    (advisor_id, name): (Option<Uuid>, Option<Prefix>),
    page: &PageRequest,
) -> Result<Page<growers::Model>, ApiError> {
    let mut rows = scope.growers();
    if let Some(advisor_id) = advisor_id {
        rows = rows.filter(growers::Column::AdvisorId.eq(advisor_id));
    }
    if let Some(name) = name {
        rows = rows.filter(name.begins(db, growers::Column::Name));
    }
    let columns = (growers::Column::Id, growers::Column::UpdatedAt);
    page.read(db, rows, columns, |row| RowPlace { updated_at: row.updated_at, id: row.id }).await
}

/// Stores a grower.
pub async fn insert(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
    now: DateTime<Utc>,
    new: NewGrower,
) -> Result<growers::Model, ApiError> {
    let NewGrower { name, advisor_id, phone, email, notes } = new;
    let advisor_id = advisor_of_new(scope, advisor_id)?;
    check_advisor(db, scope, advisor_id).await?;
    let row = growers::ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(id),
        name: Set(name),
        advisor_id: Set(advisor_id),
        phone: Set(phone),
        email: Set(email),
        notes: Set(notes),
        version: Set(1),
        created_at: Set(now),
        updated_at: Set(now),
    };
    Ok(row.insert(db).await?)
}

/// Stores changes if the row still has a version that is expected.
pub async fn update(
    db: &impl ConnectionTrait,
    before: growers::Model,
    expected: &Expected,
    now: DateTime<Utc>,
    change: GrowerChange,
) -> Result<growers::Model, ApiError> {
    expected.check(before.version)?;
    let GrowerChange { name, advisor_id, phone, email, notes } = change;
    let scope = Scope::of_practice(before.practice_id);
    if let Patch::Value(advisor_id) = advisor_id {
        check_advisor(db, scope, Some(advisor_id)).await?;
    }
    let (id, version) = (before.id, before.version);
    let row = growers::ActiveModel {
        name: Set(name.unwrap_or(before.name)),
        advisor_id: Set(advisor_id.over(before.advisor_id)),
        phone: Set(phone.over(before.phone)),
        email: Set(email.over(before.email)),
        notes: Set(notes.over(before.notes)),
        version: Set(version + 1),
        updated_at: Set(now),
        ..Default::default()
    };
    let done = growers::Entity::update_many()
        .set(row)
        .filter(growers::Column::PracticeId.eq(scope.practice_id))
        .filter(growers::Column::Id.eq(id))
        .filter(growers::Column::Version.eq(version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)?;
    find(db, scope, id).await
}

/// Deletes a grower if nothing depends on it and it has a version that is expected.
pub async fn delete(
    db: &impl ConnectionTrait,
    row: &growers::Model,
    expected: &Expected,
) -> Result<(), ApiError> {
    expected.check(row.version)?;
    intake::forget_grower(db, row.practice_id, row.id).await?;
    let done = growers::Entity::delete_many()
        .filter(growers::Column::PracticeId.eq(row.practice_id))
        .filter(growers::Column::Id.eq(row.id))
        .filter(growers::Column::Version.eq(row.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}

/// Who looks after a new grower: whoever adds one and sees only his own, would lose sight of it
/// if it were another's.
fn advisor_of_new(scope: Scope, given: Option<Uuid>) -> Result<Option<Uuid>, ApiError> {
    match (scope.sees, given) {
        (Sees::AdvisedBy(own), Some(other)) if other != own => {
            let detail =
                "Advisors see only their own growers here: a grower that you add is yours.";
            Err(BadMember::new("/advisor_id", detail).given(other).allowed(own.to_string()).into())
        }
        (Sees::AdvisedBy(own), _) => Ok(Some(own)),
        (Sees::Practice | Sees::Grower(_), given) => Ok(given),
    }
}

/// An advisor must be an account of the same practice that may advise.
async fn check_advisor(
    db: &impl ConnectionTrait,
    scope: Scope,
    advisor_id: Option<Uuid>,
) -> Result<(), ApiError> {
    let Some(advisor_id) = advisor_id else {
        return Ok(());
    };
    let found = accounts::Entity::find_by_id((scope.practice_id, advisor_id))
        .filter(Expr::col(accounts::Column::DisabledAt).is_null())
        .one(db)
        .await?;
    if found.is_some_and(|account| CanAdvise::allows(account.role)) {
        return Ok(());
    }
    let member = BadMember::new("/advisor_id", "There is no such advisor in the practice.");
    Err(member.given(advisor_id).into())
}
