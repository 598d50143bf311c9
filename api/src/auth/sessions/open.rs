//! A session begins.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
    QuerySelect,
};

use super::{OpenedSession, SignedInBy, WayIn, sweep};
use crate::app::AppState;
use crate::auth::secret;
use crate::auth::token::{self, Granted, Subject};
use crate::entities::{accounts, refresh_tokens, sessions};
use crate::http::ApiError;

/// Opens a session of an account that has proved to be who it is.
///
/// # Errors
/// When the database fails.
pub async fn open(
    db: &impl ConnectionTrait,
    app: &AppState,
    account: &accounts::Model,
    how: SignedInBy,
    now: DateTime<Utc>,
) -> Result<OpenedSession, ApiError> {
    sweep::old_sessions(db, account, now).await?;
    let (signed_in_by, access_link_id) = match how {
        SignedInBy::Password => (WayIn::Password, None),
        SignedInBy::AccessLink(link) => (WayIn::AccessLink, Some(link)),
        SignedInBy::Outside => (WayIn::Outside, None),
    };
    let expires_at = now + days(app.settings.session_days);
    let session = sessions::ActiveModel {
        practice_id: Set(account.practice_id),
        id: Set(app.ids.next()),
        account_id: Set(account.id),
        signed_in_by: Set(signed_in_by),
        access_link_id: Set(access_link_id),
        created_at: Set(now),
        refreshed_at: Set(now),
        idle_expires_at: Set(idle_end(app, now, expires_at)),
        expires_at: Set(expires_at),
        ended_at: Set(None),
        ended_because: Set(None),
    };
    let session = session.insert(db).await?;
    let refresh_token = secret::new();
    keep(db, app, &session, &refresh_token, now).await?;
    answer(app, account, &session, refresh_token, now)
}

/// Whether a password that was checked a moment ago is still the one of the account, and the
/// account still open; holds the row until the transaction ends. Without this, someone whose
/// password was changed meanwhile would get a session that the change did not end.
///
/// # Errors
/// When the database fails.
pub async fn credentials_still_hold(
    tx: &impl ConnectionTrait,
    account: &accounts::Model,
) -> Result<bool, ApiError> {
    let found = accounts::Entity::find_by_id((account.practice_id, account.id))
        .filter(accounts::Column::DisabledAt.is_null())
        .filter(accounts::Column::PasswordHash.eq(&account.password_hash))
        .lock_exclusive()
        .one(tx)
        .await?;
    Ok(found.is_some())
}

/// When a session that is used now ends unless it is used again.
pub(super) fn idle_end(
    app: &AppState,
    now: DateTime<Utc>,
    expires_at: DateTime<Utc>,
) -> DateTime<Utc> {
    expires_at.min(now + days(app.settings.session_idle_days))
}

/// Stores what is kept of a refresh token.
pub(super) async fn keep(
    db: &impl ConnectionTrait,
    app: &AppState,
    session: &sessions::Model,
    token: &str,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let row = refresh_tokens::ActiveModel {
        practice_id: Set(session.practice_id),
        id: Set(app.ids.next()),
        session_id: Set(session.id),
        token_hash: Set(secret::hash(token)),
        created_at: Set(now),
        used_at: Set(None),
        salt: Set(None),
    };
    refresh_tokens::Entity::insert(row).exec_without_returning(db).await?;
    Ok(())
}

/// What the owner of the session gets.
pub(super) fn answer(
    app: &AppState,
    account: &accounts::Model,
    session: &sessions::Model,
    refresh_token: String,
    now: DateTime<Utc>,
) -> Result<OpenedSession, ApiError> {
    let left = session.expires_at - now;
    let lifetime = left.min(TimeDelta::seconds(i64::from(app.settings.token_lifetime)));
    let granted = Granted { session: Some(session.id), ..Granted::default() };
    let access_token = token::issue(app, Subject::of(account), granted, lifetime)?;
    Ok(OpenedSession {
        id: session.id,
        access_token,
        expires_in: u32::try_from(lifetime.num_seconds()).unwrap_or(0),
        refresh_token,
        idle_expires_at: session.idle_expires_at,
        expires_at: session.expires_at,
    })
}

fn days(days: u16) -> TimeDelta {
    TimeDelta::days(i64::from(days))
}
