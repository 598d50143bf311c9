//! A session goes on.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::open::{answer, idle_end, keep};
use super::{GRACE, OpenedSession, WayOut, end, ended};
use crate::app::AppState;
use crate::auth::secret;
use crate::entities::{accounts, refresh_tokens, sessions};
use crate::http::ApiError;

/// What came of a refresh token.
#[derive(Debug)]
pub enum Refreshed {
    /// The session goes on.
    GoesOn(OpenedSession),
    /// The token was spent before, so this session was ended: that must stay, and the caller gets
    /// the error.
    Stopped(Uuid, ApiError),
}

/// The account of a refresh token. Nothing is changed.
///
/// # Errors
/// 401 for a token that is not ours, or of an account that is no longer there.
pub async fn owner(db: &impl ConnectionTrait, token: &str) -> Result<accounts::Model, ApiError> {
    let row = by_token(db, token).await?.ok_or_else(ended)?;
    let session = sessions::Entity::find_by_id((row.practice_id, row.session_id)).one(db).await?;
    let session = session.ok_or_else(ended)?;
    let account = accounts::Entity::find_by_id((row.practice_id, session.account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(db)
        .await?;
    account.ok_or_else(ended)
}

/// Spends a refresh token and gives its successor.
///
/// # Errors
/// 401 when the session has ended.
pub async fn refresh(
    tx: &impl ConnectionTrait,
    app: &AppState,
    account: &accounts::Model,
    token: &str,
    now: DateTime<Utc>,
) -> Result<Refreshed, ApiError> {
    let row = by_token(tx, token).await?.ok_or_else(ended)?;
    // Of two refreshes at once the second waits here, and then sees what the first did.
    let session = go_on(tx, app, (row.practice_id, row.session_id), now).await?;
    let row = by_token(tx, token).await?.ok_or_else(ended)?;
    if let Some(next) = successor(tx, app, &session, &row, token).await? {
        return Ok(Refreshed::GoesOn(answer(app, account, &session, next, now)?));
    }
    end(tx, (session.practice_id, session.id), WayOut::TokenReused, now).await?;
    Ok(Refreshed::Stopped(session.id, ended()))
}

/// Takes the session's row, and moves its idle end on if it has not ended.
async fn go_on(
    tx: &impl ConnectionTrait,
    app: &AppState,
    (practice_id, id): (Uuid, Uuid),
    now: DateTime<Utc>,
) -> Result<sessions::Model, ApiError> {
    let found = sessions::Entity::find_by_id((practice_id, id)).lock_exclusive().one(tx).await?;
    let session = found.ok_or_else(ended)?;
    if session.ended_at.is_some() || now >= session.expires_at.min(session.idle_expires_at) {
        return Err(ended());
    }
    let idle_expires_at = idle_end(app, now, session.expires_at);
    sessions::Entity::update_many()
        .col_expr(sessions::Column::RefreshedAt, Expr::value(now))
        .col_expr(sessions::Column::IdleExpiresAt, Expr::value(idle_expires_at))
        .filter(sessions::Column::PracticeId.eq(practice_id))
        .filter(sessions::Column::Id.eq(id))
        .exec(tx)
        .await?;
    Ok(sessions::Model { refreshed_at: now, idle_expires_at, ..session })
}

/// The successor of a token: a new one, or again the one that was not used; `None` when the token
/// was copied.
async fn successor(
    tx: &impl ConnectionTrait,
    app: &AppState,
    session: &sessions::Model,
    row: &refresh_tokens::Model,
    token: &str,
) -> Result<Option<String>, ApiError> {
    let now = session.refreshed_at;
    match (row.used_at, &row.salt) {
        (None, _) => {
            let salt = secret::new();
            let next = secret::derived(token, &salt);
            if !spend(tx, row, salt, now).await? {
                return Ok(None);
            }
            keep(tx, app, session, &next, now).await?;
            Ok(Some(next))
        }
        (Some(used_at), Some(salt)) if now - used_at < GRACE => {
            let next = secret::derived(token, salt);
            let unused = by_token(tx, &next).await?.is_some_and(|next| next.used_at.is_none());
            Ok(unused.then_some(next))
        }
        (Some(_), _) => Ok(None),
    }
}

/// Marks a token as spent, unless it is already.
async fn spend(
    tx: &impl ConnectionTrait,
    row: &refresh_tokens::Model,
    salt: String,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    let done = refresh_tokens::Entity::update_many()
        .col_expr(refresh_tokens::Column::UsedAt, Expr::value(now))
        .col_expr(refresh_tokens::Column::Salt, Expr::value(salt))
        .filter(refresh_tokens::Column::PracticeId.eq(row.practice_id))
        .filter(refresh_tokens::Column::Id.eq(row.id))
        .filter(refresh_tokens::Column::UsedAt.is_null())
        .exec(tx)
        .await?;
    Ok(done.rows_affected == 1)
}

async fn by_token(
    db: &impl ConnectionTrait,
    token: &str,
) -> Result<Option<refresh_tokens::Model>, ApiError> {
    let hash = secret::hash(token);
    let found = refresh_tokens::Entity::find()
        .filter(refresh_tokens::Column::TokenHash.eq(hash))
        .one(db)
        .await?;
    Ok(found)
}
