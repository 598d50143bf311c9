//! Records that were erased here, and what hangs below them: they wait for a person.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};

use super::known::{AT_ONCE, Known};
use crate::entities::record_matches;
use crate::exchange::intake::erased::Marks;
use crate::exchange::intake::incoming::{Kind, Parent};
use crate::exchange::intake::outcome::{Outcome, PlannedRow, Waiting};
use crate::http::ApiError;

/// When records were erased, by their ids.
type Erased = HashMap<String, DateTime<Utc>>;

/// Settles those of the new records of a kind that were erased here, or hang below such.
pub(super) async fn settle<C: ConnectionTrait>(
    known: &mut Known<'_, C>,
    marks: &Marks,
    rows: &mut [PlannedRow],
    kind: Kind,
) -> Result<(), ApiError> {
    if marks.none() {
        return Ok(());
    }
    let untied = |index: &usize| rows.get(*index).is_some_and(|row| row.work.tie.is_none());
    let new: Vec<usize> = super::open(rows, kind).into_iter().filter(untied).collect();
    if new.is_empty() {
        return Ok(());
    }
    let ids = new.iter().filter_map(|index| rows.get(*index)?.incoming.their_id.clone());
    let ids: Vec<String> = ids.collect();
    let own = marks.find(known.db, (&known.source.system, kind), &ids).await?;
    let above = above(known, marks, rows, (kind, &new)).await?;
    for index in new {
        let Some(row) = rows.get_mut(index) else { continue };
        let own = row.incoming.their_id.as_ref().and_then(|id| own.get(id));
        let above = their_parent(row).and_then(|id| above.get(id));
        match (above, own) {
            (Some(at), _) => row.settle(Outcome::Waits(Waiting::UnderErased(*at))),
            (None, Some(at)) => row.settle(Outcome::Waits(Waiting::Erased(*at))),
            (None, None) => {}
        }
    }
    Ok(())
}

fn their_parent(row: &PlannedRow) -> Option<&String> {
    match &row.incoming.said.parent {
        Some(Parent::Theirs(id)) => Some(id),
        Some(Parent::Ours(_) | Parent::Named(_)) | None => None,
    }
}

/// What these records belong to, where that was erased or hangs below what was.
async fn above<C: ConnectionTrait>(
    known: &mut Known<'_, C>,
    marks: &Marks,
    rows: &[PlannedRow],
    (kind, new): (Kind, &[usize]),
) -> Result<Erased, ApiError> {
    let Some(kind) = kind.parent() else { return Ok(Erased::new()) };
    let ids = new.iter().filter_map(|index| their_parent(rows.get(*index)?).cloned());
    let mut ids: Vec<String> = ids.collect();
    ids.sort_unstable();
    ids.dedup();
    known.read_ties(kind, ids.clone()).await?;
    ids.retain(|id| !known.ties.contains_key(&(kind, id.clone())));
    let mut erased = waiting(known, kind, &ids).await?;
    // What comes together with it says more than what came before.
    for row in rows.iter().filter(|row| row.incoming.kind == kind && !row.work.repeats) {
        let Some(id) = row.incoming.their_id.clone() else { continue };
        match &row.outcome {
            Outcome::Waits(Waiting::Erased(at) | Waiting::UnderErased(at)) => {
                erased.insert(id, *at);
            }
            Outcome::Refused(_) => {}
            _ => {
                erased.remove(&id);
            }
        }
    }
    erased.extend(marks.find(known.db, (&known.source.system, kind), &ids).await?);
    Ok(erased)
}

/// Those of these records that wait already since they were erased.
async fn waiting<C: ConnectionTrait>(
    known: &Known<'_, C>,
    kind: Kind,
    ids: &[String],
) -> Result<Erased, ApiError> {
    use record_matches::{Column, Entity};
    let mut erased = Erased::new();
    for some in ids.chunks(AT_ONCE) {
        let found = Entity::find()
            .select_only()
            .columns([Column::TheirId, Column::ErasedAt])
            .filter(Column::PracticeId.eq(known.scope.practice_id))
            .filter(Column::System.eq(known.source.system.as_str()))
            .filter(Column::Kind.eq(kind))
            .filter(Column::TheirId.is_in(some.iter().map(String::as_str)))
            .filter(Column::ErasedAt.is_not_null())
            .into_tuple::<(String, DateTime<Utc>)>();
        erased.extend(found.all(known.db).await?);
    }
    Ok(erased)
}
