//! One-time links that set a password: for a new account, and for whoever forgot his.
//!
//! A link is a random secret that is shown once and kept as a hash. It works once, for
//! [`GOOD_FOR`], and a newer one of the same account takes its place.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use super::secret;
use super::sessions::{self, WayOut};
use crate::entities::{accounts, password_links};
use crate::http::{ApiError, ProblemCode};

/// How long a link works.
pub const GOOD_FOR: TimeDelta = TimeDelta::days(7);

/// A link that was made, with its secret.
#[derive(Debug)]
pub struct NewLink {
    /// Its id.
    pub id: Uuid,
    /// The secret.
    pub token: String,
    /// Until when it works.
    pub expires_at: DateTime<Utc>,
}

/// Makes a link for an account; earlier ones stop working.
///
/// # Errors
/// When the database fails.
pub async fn make(
    tx: &impl ConnectionTrait,
    account: &accounts::Model,
    id: Uuid,
    now: DateTime<Utc>,
) -> Result<NewLink, ApiError> {
    spend_all(tx, account, now).await?;
    let (token, expires_at) = (secret::new(), now + GOOD_FOR);
    let row = password_links::ActiveModel {
        practice_id: Set(account.practice_id),
        id: Set(id),
        account_id: Set(account.id),
        token_hash: Set(secret::hash(&token)),
        created_at: Set(now),
        expires_at: Set(expires_at),
        spent_at: Set(None),
    };
    row.insert(tx).await?;
    Ok(NewLink { id, token, expires_at })
}

/// The link of this secret, and its account, if it still works.
///
/// # Errors
/// 410 if not, whatever the reason.
pub async fn find(
    db: &impl ConnectionTrait,
    token: &str,
    now: DateTime<Utc>,
) -> Result<(password_links::Model, accounts::Model), ApiError> {
    let found = password_links::Entity::find()
        .filter(password_links::Column::TokenHash.eq(secret::hash(token)))
        .filter(password_links::Column::SpentAt.is_null())
        .one(db)
        .await?;
    let link = found.filter(|link| now < link.expires_at).ok_or_else(gone)?;
    let account = accounts::Entity::find_by_id((link.practice_id, link.account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(db)
        .await?;
    Ok((link, account.ok_or_else(gone)?))
}

/// Spends a link and sets the password of its account; all sessions of the account end.
///
/// # Errors
/// 410 when someone else was faster.
pub async fn redeem(
    tx: &impl ConnectionTrait,
    (link, account): (&password_links::Model, &accounts::Model),
    password_hash: String,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let done = password_links::Entity::update_many()
        .col_expr(password_links::Column::SpentAt, Expr::value(now))
        .filter(password_links::Column::PracticeId.eq(link.practice_id))
        .filter(password_links::Column::Id.eq(link.id))
        .filter(password_links::Column::SpentAt.is_null())
        .exec(tx)
        .await?;
    if done.rows_affected == 0 {
        return Err(gone());
    }
    set_password(tx, account, password_hash, None, now).await
}

/// Sets a password. All sessions of the account end but for one that may stay, and so do links.
///
/// # Errors
/// 410 when the account was shut out meanwhile.
pub async fn set_password(
    tx: &impl ConnectionTrait,
    account: &accounts::Model,
    password_hash: String,
    stays: Option<Uuid>,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let done = accounts::Entity::update_many()
        .col_expr(accounts::Column::PasswordHash, Expr::value(password_hash))
        .col_expr(accounts::Column::Version, Expr::col(accounts::Column::Version).add(1))
        .filter(accounts::Column::PracticeId.eq(account.practice_id))
        .filter(accounts::Column::Id.eq(account.id))
        .filter(accounts::Column::DisabledAt.is_null())
        .exec(tx)
        .await?;
    if done.rows_affected == 0 {
        return Err(gone());
    }
    spend_all(tx, account, now).await?;
    let key = (account.practice_id, account.id);
    sessions::end_all_of_account(tx, key, stays, WayOut::PasswordChanged, now).await
}

/// Stops all links of an account that still work.
///
/// # Errors
/// When the database fails.
pub async fn spend_all(
    tx: &impl ConnectionTrait,
    account: &accounts::Model,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    password_links::Entity::update_many()
        .col_expr(password_links::Column::SpentAt, Expr::value(now))
        .filter(password_links::Column::PracticeId.eq(account.practice_id))
        .filter(password_links::Column::AccountId.eq(account.id))
        .filter(password_links::Column::SpentAt.is_null())
        .exec(tx)
        .await?;
    Ok(())
}

fn gone() -> ApiError {
    ApiError::new(ProblemCode::LinkGone, ProblemCode::LinkGone.meaning())
}
