//! Access links in the database. Every query of a caller starts from the growers in his scope.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, Condition, ConnectionTrait, EntityTrait,
    QueryFilter, QueryOrder, QuerySelect, QueryTrait, Select,
};
use uuid::Uuid;

use super::dto::{AccessLinkStatus, status};
use crate::app::AppState;
use crate::auth::accounts::{self as people, NewAccount};
use crate::auth::role::Role;
use crate::auth::{Scope, no_password, secret};
use crate::entities::{access_links, accounts, growers};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};
use crate::v1::units::Units;

/// A link to be stored.
#[derive(Debug)]
pub struct NewLink {
    /// The grower.
    pub grower_id: Uuid,
    /// Note of the advisor.
    pub note: Option<String>,
    /// When it stops working.
    pub expires_at: DateTime<Utc>,
    /// Whether it works once only.
    pub single_use: bool,
}

/// The links to growers in scope.
fn links(scope: Scope) -> Select<access_links::Entity> {
    let growers = scope.growers().select_only().column(growers::Column::Id).into_query();
    access_links::Entity::find()
        .filter(access_links::Column::PracticeId.eq(scope.practice_id))
        .filter(access_links::Column::GrowerId.in_subquery(growers))
}

/// Finds a link to a grower in scope. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<access_links::Model, ApiError> {
    let found = links(scope).filter(access_links::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("access link"))
}

/// A page of the links to growers in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    grower_id: Option<Uuid>,
    page: &PageRequest,
) -> Result<(Vec<access_links::Model>, Option<String>), ApiError> {
    let mut rows = links(scope);
    if let Some(grower_id) = grower_id {
        rows = rows.filter(access_links::Column::GrowerId.eq(grower_id));
    }
    let rows = page.of(rows, access_links::Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// Stores a link and gives its token. A grower who has no account gets one.
///
/// # Errors
/// 404 for a grower out of scope, 409 when the grower's account is disabled.
pub async fn insert(
    db: &impl ConnectionTrait,
    app: &AppState,
    (scope, made_by): (Scope, Uuid),
    new: NewLink,
) -> Result<(access_links::Model, String), ApiError> {
    let NewLink { grower_id, note, expires_at, single_use } = new;
    // Holds the grower until the transaction ends, so that two links at once make one account.
    let grower = scope.growers().filter(growers::Column::Id.eq(grower_id)).lock_exclusive();
    let grower = grower.one(db).await?.ok_or_else(|| ApiError::not_found("grower"))?;
    see_to_account(db, app, grower).await?;
    let token = secret::new();
    let row = access_links::ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(app.ids.next()),
        grower_id: Set(grower_id),
        made_by: Set(made_by),
        token_hash: Set(secret::hash(&token)),
        note: Set(note),
        single_use: Set(single_use),
        expires_at: Set(expires_at),
        created_at: Set(app.clock.now()),
        last_used_at: Set(None),
        revoked_at: Set(None),
    };
    Ok((row.insert(db).await?, token))
}

/// Makes the grower's account, which can't sign in with a password, if there is none.
async fn see_to_account(
    db: &impl ConnectionTrait,
    app: &AppState,
    grower: growers::Model,
) -> Result<(), ApiError> {
    let key = (grower.practice_id, grower.id);
    let accounts = accounts_of(key).all(db).await?;
    if accounts.iter().any(|account| account.disabled_at.is_none()) {
        return Ok(());
    }
    if !accounts.is_empty() {
        let detail = "The account of the grower is disabled. Enable it first.";
        return Err(ApiError::new(ProblemCode::WrongState, detail));
    }
    let account = NewAccount {
        email: no_password::address(app.ids.next()),
        display_name: grower.name,
        role: Role::Grower,
        grower_id: Some(grower.id),
        password: String::new(),
        units: Units::default(),
    };
    let hash = no_password::HASH.to_owned();
    people::create_with_hash(db, app.maker(), grower.practice_id, account, hash).await?;
    Ok(())
}

/// The accounts of a grower, oldest first.
fn accounts_of((practice_id, grower_id): (Uuid, Uuid)) -> Select<accounts::Entity> {
    accounts::Entity::find()
        .filter(accounts::Column::PracticeId.eq(practice_id))
        .filter(accounts::Column::GrowerId.eq(grower_id))
        .filter(accounts::Column::Role.eq(Role::Grower))
        .order_by_asc(accounts::Column::Id)
}

/// The link of a token and the account that it leads to; `None` when it does not work, why ever.
pub async fn by_token(
    db: &impl ConnectionTrait,
    token: &str,
    now: DateTime<Utc>,
) -> Result<Option<(access_links::Model, accounts::Model)>, ApiError> {
    let link = access_links::Entity::find()
        .filter(access_links::Column::TokenHash.eq(secret::hash(token)))
        .one(db)
        .await?
        .filter(|link| status(now, link) == AccessLinkStatus::Works);
    let Some(link) = link else {
        return Ok(None);
    };
    let account = accounts_of((link.practice_id, link.grower_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(db)
        .await?;
    Ok(account.map(|account| (link, account)))
}

/// Notes that a link was used, if it still works; holds it until the transaction ends. Says whether
/// it did work.
pub async fn use_once(
    db: &impl ConnectionTrait,
    link: &access_links::Model,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    let may_again = Condition::any()
        .add(access_links::Column::SingleUse.eq(false))
        .add(access_links::Column::LastUsedAt.is_null());
    let done = access_links::Entity::update_many()
        .col_expr(access_links::Column::LastUsedAt, Expr::value(now))
        .filter(access_links::Column::PracticeId.eq(link.practice_id))
        .filter(access_links::Column::Id.eq(link.id))
        .filter(access_links::Column::RevokedAt.is_null())
        .filter(access_links::Column::ExpiresAt.gt(now))
        .filter(may_again)
        .exec(db)
        .await?;
    Ok(done.rows_affected == 1)
}

/// Revokes a link. Says whether it was not revoked before.
pub async fn revoke(
    db: &impl ConnectionTrait,
    link: &access_links::Model,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    let done = access_links::Entity::update_many()
        .col_expr(access_links::Column::RevokedAt, Expr::value(now))
        .filter(access_links::Column::PracticeId.eq(link.practice_id))
        .filter(access_links::Column::Id.eq(link.id))
        .filter(access_links::Column::RevokedAt.is_null())
        .exec(db)
        .await?;
    Ok(done.rows_affected == 1)
}
