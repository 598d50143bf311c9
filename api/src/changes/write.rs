//! Changes appended, numbered so that nobody who follows them misses one.

use sea_orm::sea_query::{Expr, ExprTrait, OnConflict};
use sea_orm::{ActiveValue::Set, DatabaseTransaction, DbErr, EntityTrait};
use uuid::Uuid;

use super::change::Change;
use crate::app::AppState;
use crate::entities::{change_counters, changes};
use crate::http::ApiError;

/// Rows of one statement: databases bound its parameters.
const AT_ONCE: usize = 500;

/// Appends changes in the transaction that makes them.
///
/// Call it last: the practice's counter is held from here until the transaction ends. On PostgreSQL
/// other writers of the practice wait for it with their last step, on SQLite there is one writer
/// anyway. So positions become visible in their order, and a transaction that fails takes its
/// positions back.
///
/// # Errors
/// When the database fails.
pub async fn append(
    tx: &DatabaseTransaction,
    app: &AppState,
    practice_id: Uuid,
    made: &[Change],
) -> Result<(), ApiError> {
    if made.is_empty() {
        return Ok(());
    }
    let count = i64::try_from(made.len()).map_err(ApiError::internal)?;
    let last = count_on(tx, practice_id, count).await?;
    let at = app.clock.now();
    let first = last.saturating_sub(count).saturating_add(1);
    for (some, nth) in made.chunks(AT_ONCE).zip((0_i64..).step_by(AT_ONCE)) {
        let rows = some.iter().zip(first.saturating_add(nth)..).map(|(change, position)| {
            let Change { change_type, object_id, grower_id, version } = change;
            changes::ActiveModel {
                practice_id: Set(practice_id),
                position: Set(position),
                at: Set(at),
                change_type: Set(change_type.wire().to_owned()),
                object_kind: Set(change_type.object_kind().to_owned()),
                object_id: Set(object_id.clone()),
                grower_id: Set(*grower_id),
                version: Set(*version),
            }
        });
        changes::Entity::insert_many(rows).exec_without_returning(tx).await?;
    }
    Ok(())
}

/// Holds the counter of a practice until the end of the transaction, and counts it on. Gives the
/// last position.
async fn count_on(tx: &DatabaseTransaction, practice_id: Uuid, more: i64) -> Result<i64, DbErr> {
    use change_counters::{ActiveModel, Column, Entity};
    let first = ActiveModel { practice_id: Set(practice_id), position: Set(more) };
    let counted_on = Expr::col((Entity, Column::Position)).add(more);
    let there =
        OnConflict::column(Column::PracticeId).value(Column::Position, counted_on).to_owned();
    Ok(Entity::insert(first).on_conflict(there).exec_with_returning(tx).await?.position)
}
