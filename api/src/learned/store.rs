//! Lessons in the database, numbered so that nobody who follows them misses one.

use chrono::{DateTime, Utc};
use domain::learning::DigEvent;
use sea_orm::sea_query::{Expr, ExprTrait, OnConflict};
use sea_orm::{
    AccessMode, ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseConnection,
    DatabaseTransaction, DbBackend, DbErr, EntityTrait, IsolationLevel, QueryFilter, QueryOrder,
    QuerySelect, TransactionOptions, TransactionTrait,
};
use uuid::Uuid;

use super::lesson::{Lesson, event_of};
use crate::auth::Scope;
use crate::entities::{dig_lessons, lesson_counters};
use crate::http::ApiError;

/// How far the lessons of a practice are known.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Mark {
    /// Number of the last lesson.
    pub seq: i64,
    /// How often all of them were made anew.
    pub generation: i32,
}

/// Keeps what a dig check taught, in the transaction that stores the dig check.
///
/// Call it last: the practice's counter is held until the transaction ends. That makes the order of
/// the numbers the order in which lessons become visible, so whoever asks for those after a number
/// misses none.
pub async fn record(
    tx: &DatabaseTransaction,
    scope: Scope,
    now: DateTime<Utc>,
    lesson: &Lesson,
) -> Result<(), ApiError> {
    insert(tx, scope.practice_id, now, std::slice::from_ref(lesson)).await
}

/// Rows of one statement: databases bound its parameters.
const AT_ONCE: usize = 500;

/// Numbers lessons and stores them.
pub(super) async fn insert(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    now: DateTime<Utc>,
    lessons: &[Lesson],
) -> Result<(), ApiError> {
    let more = i64::try_from(lessons.len()).map_err(ApiError::internal)?;
    let last = hold_counter(tx, practice_id, more).await?;
    let rows: Vec<dig_lessons::ActiveModel> = (last.saturating_sub(more).saturating_add(1)..)
        .zip(lessons)
        .map(|(seq, lesson)| lesson.row(practice_id, seq, now))
        .collect::<Result<_, _>>()
        .map_err(ApiError::internal)?;
    for some in rows.chunks(AT_ONCE) {
        dig_lessons::Entity::insert_many(some.iter().cloned()).exec_without_returning(tx).await?;
    }
    Ok(())
}

/// Holds the counter of a practice until the end of the transaction, and counts it on. Gives the
/// last number.
pub(super) async fn hold_counter(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    more: i64,
) -> Result<i64, DbErr> {
    let column = lesson_counters::Column::Seq;
    let counted_on = Expr::col((lesson_counters::Entity, column)).add(more);
    Ok(upsert_counter(tx, practice_id, (more, 0), (column, counted_on)).await?.seq)
}

/// Holds the counter of a practice and forgets its lessons: they are about to be made anew.
pub(super) async fn forget(tx: &DatabaseTransaction, practice_id: Uuid) -> Result<(), DbErr> {
    next_generation(tx, practice_id).await?;
    dig_lessons::Entity::delete_many()
        .filter(dig_lessons::Column::PracticeId.eq(practice_id))
        .exec(tx)
        .await?;
    Ok(())
}

/// Holds the counter of a practice and says that its lessons are others now.
pub(super) async fn next_generation(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
) -> Result<(), DbErr> {
    let column = lesson_counters::Column::Generation;
    let next = Expr::col((lesson_counters::Entity, column)).add(1);
    upsert_counter(tx, practice_id, (0, 1), (column, next)).await?;
    Ok(())
}

/// The first and the last of some times; none of none.
type Ends = (Option<DateTime<Utc>>, Option<DateTime<Utc>>);

/// When the first and the last dig of a practice were dug.
pub(super) async fn dug_between(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
) -> Result<Option<(DateTime<Utc>, DateTime<Utc>)>, DbErr> {
    let dug_at = dig_lessons::Column::DugAt;
    let ends: Option<Ends> = dig_lessons::Entity::find()
        .filter(dig_lessons::Column::PracticeId.eq(practice_id))
        .select_only()
        .column_as(dug_at.min(), "first")
        .column_as(dug_at.max(), "last")
        .into_tuple()
        .one(tx)
        .await?;
    Ok(ends.and_then(|(first, last)| first.zip(last)))
}

/// Counts the digs of a span of time to a season.
pub(super) async fn set_season(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    season: i32,
    (from, to): (DateTime<Utc>, DateTime<Utc>),
) -> Result<(), DbErr> {
    use dig_lessons::Column;
    dig_lessons::Entity::update_many()
        .col_expr(Column::Season, Expr::value(season))
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::DugAt.gte(from))
        .filter(Column::DugAt.lt(to))
        .filter(Column::Season.ne(season))
        .exec(tx)
        .await?;
    Ok(())
}

async fn upsert_counter(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    (seq, generation): (i64, i32),
    (column, then): (lesson_counters::Column, sea_orm::sea_query::SimpleExpr),
) -> Result<lesson_counters::Model, DbErr> {
    let first = lesson_counters::ActiveModel {
        practice_id: Set(practice_id),
        seq: Set(seq),
        generation: Set(generation),
    };
    let there =
        OnConflict::column(lesson_counters::Column::PracticeId).value(column, then).to_owned();
    lesson_counters::Entity::insert(first).on_conflict(there).exec_with_returning(tx).await
}

/// How far the lessons of a practice go.
pub(super) async fn mark(db: &impl ConnectionTrait, practice_id: Uuid) -> Result<Mark, DbErr> {
    let found = lesson_counters::Entity::find_by_id(practice_id).one(db).await?;
    Ok(found.map_or_else(Mark::default, |row| Mark { seq: row.seq, generation: row.generation }))
}

/// Events after a mark.
#[derive(Debug)]
pub(super) struct Since {
    /// How far they go.
    pub mark: Mark,
    /// Whether these are all: there was no mark, or the lessons were made anew since.
    pub all: bool,
    /// The events.
    pub events: Vec<DigEvent>,
}

/// Rows that are read at once.
const PAGE: u64 = 1000;

/// The events after a mark, as of one moment.
pub(super) async fn since(
    db: &DatabaseConnection,
    practice_id: Uuid,
    known: Option<Mark>,
) -> Result<Since, ApiError> {
    let tx = snapshot(db).await?;
    let mark = mark(&tx, practice_id).await?;
    let known = known.filter(|known| known.generation == mark.generation);
    let mut last = known.map_or(0, |known| known.seq);
    let mut events = Vec::new();
    while last < mark.seq {
        let rows = Scope::of_practice(practice_id)
            .dig_lessons()
            .filter(dig_lessons::Column::Seq.gt(last))
            .order_by_asc(dig_lessons::Column::Seq)
            .limit(PAGE)
            .all(&tx)
            .await?;
        let Some(end) = rows.last() else { break };
        last = end.seq;
        for row in rows {
            events.extend(event_of(row)?);
        }
    }
    tx.commit().await?;
    Ok(Since { mark, all: known.is_none(), events })
}

/// A transaction that reads, and sees one moment. On SQLite every transaction does.
async fn snapshot(db: &DatabaseConnection) -> Result<DatabaseTransaction, DbErr> {
    let options = match db.get_database_backend() {
        DbBackend::Sqlite => TransactionOptions::default(),
        _ => TransactionOptions {
            isolation_level: Some(IsolationLevel::RepeatableRead),
            access_mode: Some(AccessMode::ReadOnly),
            ..TransactionOptions::default()
        },
    };
    db.begin_with_options(options).await
}
