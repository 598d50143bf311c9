//! Accounts in the database.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, PaginatorTrait, QueryFilter,
    QuerySelect, Select,
};
use uuid::Uuid;

use super::dto::Account;
use super::patch::{AccountPatch, fits};
use crate::auth::Scope;
use crate::auth::role::Role;
use crate::auth::sessions::{self, WayOut};
use crate::auth::{no_password, password_links};
use crate::entities::{accounts, practices};
use crate::http::etag::{self, Expected};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};
use crate::v1::growers;
use crate::v1::units::Units;

/// The accounts of people in a practice. Those of machine clients and of access links are managed
/// where they are made.
fn people(practice_id: Uuid) -> Select<accounts::Entity> {
    accounts::Entity::find()
        .filter(accounts::Column::PracticeId.eq(practice_id))
        .filter(accounts::Column::Email.not_like(format!("%{}", no_password::DOMAIN)))
}

/// Finds the account of a person in a practice.
pub async fn find(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    id: Uuid,
) -> Result<accounts::Model, ApiError> {
    let found = people(practice_id).filter(accounts::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("account"))
}

/// A page of the accounts of people.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    (role, disabled): (Option<Role>, Option<bool>),
    page: &PageRequest,
) -> Result<(Vec<accounts::Model>, Option<String>), ApiError> {
    let mut rows = people(practice_id);
    if let Some(role) = role {
        rows = rows.filter(accounts::Column::Role.eq(role));
    }
    rows = match disabled {
        Some(true) => rows.filter(accounts::Column::DisabledAt.is_not_null()),
        Some(false) => rows.filter(accounts::Column::DisabledAt.is_null()),
        None => rows,
    };
    let rows = page.of(rows, accounts::Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// The name of a practice.
pub(super) async fn practice_name(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
) -> Result<String, ApiError> {
    let found = practices::Entity::find_by_id(practice_id).one(db).await?;
    Ok(found.ok_or_else(|| ApiError::internal("an account without a practice"))?.name)
}

/// The account as it goes over the wire, with the name of its practice.
pub async fn with_practice(
    db: &impl ConnectionTrait,
    row: accounts::Model,
) -> Result<Account, ApiError> {
    let practice = practice_name(db, row.practice_id).await?;
    Ok(Account::of(row, practice))
}

/// Stores a new display name and units of one's own account.
pub async fn change(
    db: &impl ConnectionTrait,
    row: accounts::Model,
    display_name: Option<String>,
    units: Option<Units>,
) -> Result<accounts::Model, ApiError> {
    if display_name.is_none() && units.is_none() {
        return Ok(row);
    }
    let (practice_id, id) = (row.practice_id, row.id);
    accounts::Entity::update_many()
        .set(accounts::ActiveModel {
            display_name: Set(display_name.unwrap_or(row.display_name)),
            units: Set(units.unwrap_or(row.units)),
            ..Default::default()
        })
        .col_expr(accounts::Column::Version, Expr::col(accounts::Column::Version).add(1))
        .filter(accounts::Column::PracticeId.eq(practice_id))
        .filter(accounts::Column::Id.eq(id))
        .exec(db)
        .await?;
    let found = accounts::Entity::find_by_id((practice_id, id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("account"))
}

/// Stores changes by the lead if the row still has a version that is expected. Ends the sessions of
/// an account that is shut out.
pub(super) async fn update(
    tx: &impl ConnectionTrait,
    before: accounts::Model,
    expected: &Expected,
    now: DateTime<Utc>,
    patch: AccountPatch,
) -> Result<accounts::Model, ApiError> {
    expected.check(before.version)?;
    let AccountPatch { display_name, role, grower_id, units, disabled } = patch;
    let (practice_id, id, version) = (before.practice_id, before.id, before.version);
    let after = accounts::Model {
        display_name: display_name.unwrap_or(before.display_name),
        role: role.unwrap_or(before.role),
        grower_id: grower_id.over(before.grower_id),
        units: units.unwrap_or(before.units),
        disabled_at: match disabled {
            Some(true) => before.disabled_at.or(Some(now)),
            Some(false) => None,
            None => before.disabled_at,
        },
        version: version + 1,
        ..before
    };
    fits(after.role, after.grower_id)?;
    if let (true, Some(grower)) = (after.grower_id != before.grower_id, after.grower_id) {
        growers::store::check_reference(tx, Scope::of_practice(practice_id), grower).await?;
    }
    let leads = |role, disabled_at: Option<_>| role == Role::Lead && disabled_at.is_none();
    if leads(before.role, before.disabled_at) && !leads(after.role, after.disabled_at) {
        keep_a_lead(tx, practice_id, id).await?;
    }
    let done = accounts::Entity::update_many()
        .set(accounts::ActiveModel {
            display_name: Set(after.display_name.clone()),
            role: Set(after.role),
            grower_id: Set(after.grower_id),
            units: Set(after.units),
            disabled_at: Set(after.disabled_at),
            version: Set(after.version),
            ..Default::default()
        })
        .filter(accounts::Column::PracticeId.eq(practice_id))
        .filter(accounts::Column::Id.eq(id))
        .filter(accounts::Column::Version.eq(version))
        .exec(tx)
        .await?;
    etag::one_row(done.rows_affected)?;
    if after.disabled_at.is_some() {
        password_links::spend_all(tx, &after, now).await?;
        let account = (practice_id, id);
        sessions::end_all_of_account(tx, account, None, WayOut::AccountDisabled, now).await?;
    }
    Ok(after)
}

/// Refuses to take away the last lead. Holds the row of the practice, so that two leads who take
/// each other away at once are one after the other.
async fn keep_a_lead(
    tx: &impl ConnectionTrait,
    practice_id: Uuid,
    but: Uuid,
) -> Result<(), ApiError> {
    practices::Entity::find_by_id(practice_id).lock_exclusive().one(tx).await?;
    let others = people(practice_id)
        .filter(accounts::Column::Role.eq(Role::Lead))
        .filter(accounts::Column::DisabledAt.is_null())
        .filter(accounts::Column::Id.ne(but))
        .count(tx)
        .await?;
    if others > 0 {
        return Ok(());
    }
    let detail = "This is the last lead of the practice. Make another account a lead first.";
    Err(ApiError::new(ProblemCode::WrongState, detail))
}
