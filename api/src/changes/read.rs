//! Changes after a position.

use sea_orm::{
    ColumnTrait, ConnectionTrait, DbErr, EntityTrait, QueryFilter, QueryOrder, QuerySelect, Select,
};
use uuid::Uuid;

use super::change::Recorded;
use super::types::ChangeType;
use crate::auth::{Scope, Sees};
use crate::entities::change_counters;
use crate::entities::changes::{Column, Entity};
use crate::http::ApiError;

/// Most positions that a page looks through, so that it takes no longer when hardly any of them are
/// asked for.
const SPAN: i64 = 5_000;

/// A page of changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangePage {
    /// The changes, in order.
    pub changes: Vec<Recorded>,
    /// Read on after this position; nothing up to it was left out.
    pub next: i64,
    /// Whether something is there to be read already. A page may have no changes and more to come:
    /// those that it looked through were not asked for.
    pub more: bool,
}

/// The position of the last change of a practice; 0 before the first.
///
/// # Errors
/// When the database fails.
pub async fn last_position(db: &impl ConnectionTrait, practice_id: Uuid) -> Result<i64, DbErr> {
    let found = change_counters::Entity::find_by_id(practice_id).one(db).await?;
    Ok(found.map_or(0, |row| row.position))
}

/// The changes in scope after a position, at most `limit` of them; of all types when `types` is
/// empty.
///
/// # Errors
/// When the database fails.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: &Scope,
    after: i64,
    types: &[ChangeType],
    limit: u16,
) -> Result<ChangePage, ApiError> {
    // Asked first: what is counted by now is committed, so the next query sees all of it.
    let last = last_position(db, scope.practice_id).await?;
    if after >= last {
        return Ok(ChangePage { changes: Vec::new(), next: last, more: false });
    }
    let to = match scope.sees {
        Sees::Grower(_) => last,
        Sees::Practice | Sees::AdvisedBy(_) => last.min(after.saturating_add(SPAN)),
    };
    let rows = query(scope, (after, to), types, limit).all(db).await?;
    let end = rows.last().map(|row| row.position);
    let full = rows.len() == usize::from(limit);
    let next = end.filter(|end| full || *end > to).unwrap_or(to);
    let changes = rows.into_iter().map(Recorded::try_from).collect::<Result<_, _>>()?;
    Ok(ChangePage { changes, next, more: next < last })
}

/// Reads a page: the changes in scope after a position up to another, of these types.
///
/// A grower's end where they end, not at `to`: an index has them in order, so none is looked through in
/// vain, and SQLite takes that index only for a range that is open. What was committed since `to` was
/// asked for may be among them, and then all of it is.
pub fn query(
    scope: &Scope,
    (after, to): (i64, i64),
    types: &[ChangeType],
    limit: u16,
) -> Select<Entity> {
    let rows = of(scope, types).filter(Column::Position.gt(after));
    let rows = match scope.sees {
        Sees::Grower(_) => rows,
        Sees::Practice | Sees::AdvisedBy(_) => rows.filter(Column::Position.lte(to)),
    };
    rows.order_by_asc(Column::Position).limit(u64::from(limit))
}

/// The changes in scope, of these types. A grower's account learns of no draft.
fn of(scope: &Scope, types: &[ChangeType]) -> Select<Entity> {
    let rows = scope.changes();
    let told = |it: &ChangeType| !scope.hides_drafts() || it.tells_growers();
    if types.is_empty() && ChangeType::ALL.iter().all(told) {
        return rows;
    }
    let asked = if types.is_empty() { ChangeType::ALL } else { types };
    let names = asked.iter().copied().filter(told).map(ChangeType::wire);
    rows.filter(Column::ChangeType.is_in(names))
}

#[cfg(test)]
mod tests {
    use sea_orm::{DbBackend, QueryTrait};
    use uuid::Uuid;

    use super::of;
    use crate::auth::{Scope, Sees};
    use crate::changes::ChangeType;

    #[test]
    fn a_grower_is_never_told_of_drafts_even_when_asked_for() {
        let scope = Scope { practice_id: Uuid::nil(), sees: Sees::Grower(Uuid::from_u128(1)) };
        let sql = |types: &[ChangeType]| of(&scope, types).build(DbBackend::Sqlite).to_string();
        assert!(!sql(&[]).contains("drafted") && sql(&[]).contains("settings_sheet.published"));
        let asked = [ChangeType::SettingsSheetDrafted, ChangeType::DigCheckRecorded];
        assert!(!sql(&asked).contains("drafted") && sql(&asked).contains("dig_check.recorded"));
    }
}
