//! Keys and answers in the database.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, OnConflict};
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseConnection, DatabaseTransaction,
    DbBackend, DbErr, EntityTrait, QueryFilter, Statement,
};
use serde::Serialize;
use uuid::Uuid;

use super::key::Key;
use super::written::Again;
use crate::entities::idempotency_keys::{ActiveModel, Column, Entity, Model};
use crate::http::{Answer, ApiError, ProblemCode};

/// How long a key is kept.
pub const KEPT_FOR: TimeDelta = TimeDelta::hours(48);

/// The answer that was given to this request, if it was.
///
/// # Errors
/// 422 when the key came with another request, 409 when the answer was not to be kept.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    key: &Key,
    now: DateTime<Utc>,
) -> Result<Option<Again>, ApiError> {
    let found = Entity::find_by_id((key.practice_id, key.id))
        .filter(Column::ExpiresAt.gt(now))
        .one(db)
        .await?;
    found.map(|row| again(row, key)).transpose()
}

/// The same inside the transaction that will keep the key. Holds it against other processes.
///
/// # Errors
/// Also 409 when another process is carrying out a request with the key.
pub(super) async fn claim(
    tx: &DatabaseTransaction,
    key: &Key,
    now: DateTime<Utc>,
) -> Result<Option<Again>, ApiError> {
    if tx.get_database_backend() == DbBackend::Postgres && !try_lock(tx, key).await? {
        return Err(under_way());
    }
    find(tx, key, now).await
}

async fn try_lock(tx: &DatabaseTransaction, key: &Key) -> Result<bool, DbErr> {
    let sql = "SELECT pg_try_advisory_xact_lock($1)";
    let asked = Statement::from_sql_and_values(DbBackend::Postgres, sql, [key.lock().into()]);
    match tx.query_one_raw(asked).await? {
        Some(row) => row.try_get_by_index(0),
        None => Ok(false),
    }
}

/// A request with this key is being carried out.
pub(super) fn under_way() -> ApiError {
    let code = ProblemCode::RequestUnderWay;
    ApiError::try_later(code, code.meaning(), 1)
}

fn again(row: Model, key: &Key) -> Result<Again, ApiError> {
    let Model { fingerprint, status, etag, location, body, .. } = row;
    let code = match fingerprint {
        Some(before) if before == key.fingerprint => {
            return Again::of(status, etag, location, body);
        }
        Some(_) => ProblemCode::KeyReused,
        None => ProblemCode::AnswerNotKept,
    };
    Err(ApiError::new(code, code.meaning()))
}

/// Keeps a key with the answer; of one that holds a secret only that it was given.
pub(super) async fn keep<T: Serialize>(
    tx: &DatabaseTransaction,
    key: &Key,
    now: DateTime<Utc>,
    answer: &Answer<T>,
) -> Result<(), ApiError> {
    let parts = answer.parts();
    let open = !parts.secret;
    let body = match parts.body.filter(|_| open) {
        Some(body) => Some(serde_json::to_string(body).map_err(ApiError::internal)?),
        None => None,
    };
    let row = ActiveModel {
        practice_id: Set(key.practice_id),
        id: Set(key.id),
        fingerprint: Set(open.then(|| key.fingerprint.clone())),
        status: Set(i32::from(parts.status.as_u16())),
        etag: Set(parts.etag.filter(|_| open)),
        location: Set(parts.location.filter(|_| open).map(str::to_owned)),
        body: Set(body),
        expires_at: Set(now + KEPT_FOR),
    };
    // One that is there has expired, else it would have been found.
    let expired = OnConflict::columns([Column::PracticeId, Column::Id])
        .update_columns([
            Column::Fingerprint,
            Column::Status,
            Column::Etag,
            Column::Location,
            Column::Body,
            Column::ExpiresAt,
        ])
        .to_owned();
    Entity::insert(row).on_conflict(expired).exec_without_returning(tx).await?;
    Ok(())
}

/// Deletes what has expired.
pub(super) async fn sweep(db: DatabaseConnection, now: DateTime<Utc>) {
    let swept = Entity::delete_many().filter(Column::ExpiresAt.lte(now)).exec(&db).await;
    match swept {
        Ok(done) => tracing::debug!(rows = done.rows_affected, "expired keys swept out"),
        Err(error) => tracing::warn!(cause = %error, "expired keys could not be swept out"),
    }
}

/// Forgets the answers that a practice's keys have, because someone's data is to be erased. The
/// keys stay: what they stood for is still done only once, and the same key gets 409.
pub async fn forget_answers(db: &impl ConnectionTrait, practice_id: Uuid) -> Result<(), DbErr> {
    let nothing = || Expr::value(None::<String>);
    Entity::update_many()
        .col_expr(Column::Fingerprint, nothing())
        .col_expr(Column::Etag, nothing())
        .col_expr(Column::Location, nothing())
        .col_expr(Column::Body, nothing())
        .filter(Column::PracticeId.eq(practice_id))
        .exec(db)
        .await?;
    Ok(())
}
