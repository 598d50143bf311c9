//! What would become of each record. Reads only.

mod area;
mod begin;
mod check;
mod compare;
mod erased;
mod harvests;
mod known;
mod land;
mod look;
mod names;
mod ours;
mod overlap;
mod parents;

pub(super) use compare::same;
pub(super) use known::AT_ONCE;
pub(super) use ours::objects_of;

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, PaginatorTrait, QueryFilter};

use super::erased::Marks;
use super::incoming::{Incoming, Kind};
use super::outcome::{Plan, PlannedRow, Source};
use crate::auth::Scope;
use crate::entities::grower_erasures;
use crate::http::ApiError;
use known::Known;
use uuid::Uuid;

/// Says for each record what would become of it. The order of the records does not matter.
///
/// # Errors
/// When the database fails. What is wrong with a record is said in its row.
pub async fn plan(
    db: &impl ConnectionTrait,
    scope: Scope,
    source: &Source,
    incoming: Vec<Incoming>,
) -> Result<Plan, ApiError> {
    let mut rows = begin::rows(incoming)?;
    let erasures = erasures(db, scope.practice_id).await?;
    let marks = Marks::of(db, scope.practice_id).await?;
    let mut known = Known::of(db, scope, source);
    // Parents first: what becomes of them decides what becomes of what belongs to them.
    for kind in Kind::ALL.iter().copied() {
        let of_kind = open(&rows, kind);
        if !of_kind.is_empty() {
            plan_kind(&mut known, &marks, &mut rows, kind).await?;
        }
    }
    known.note_matches(&mut rows).await?;
    Ok(Plan { system: source.system.clone(), rows, erasures })
}

/// How many growers were erased so far. What was planned before an erasure must not be done after it.
pub(super) async fn erasures(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
) -> Result<u64, ApiError> {
    use grower_erasures::{Column, Entity};
    Ok(Entity::find().filter(Column::PracticeId.eq(practice_id)).count(db).await?)
}

async fn plan_kind<C: ConnectionTrait>(
    known: &mut Known<'_, C>,
    marks: &Marks,
    rows: &mut [PlannedRow],
    kind: Kind,
) -> Result<(), ApiError> {
    known.tie(rows, kind, &open(rows, kind)).await?;
    ours::read(known, rows, kind, &open(rows, kind)).await?;
    erased::settle(known, marks, rows, kind).await?;
    // What waits for what it belongs to is kept, so it is checked before.
    check::values(known, rows, &open(rows, kind)).await?;
    parents::find(known, rows, kind, &open(rows, kind)).await?;
    harvests::refuse_repeated(known, rows, &open(rows, kind)).await?;
    compare::tied(known, rows, &open(rows, kind));
    let siblings = names::read(known, rows, kind).await?;
    look::untied(known, rows, kind, &siblings).await?;
    names::keep_unique(rows, kind, &siblings);
    Ok(())
}

/// The rows of a kind whose outcome is still to be found.
fn open(rows: &[PlannedRow], kind: Kind) -> Vec<usize> {
    let numbered = rows.iter().enumerate();
    numbered
        .filter(|(_, row)| row.work.open && row.incoming.kind == kind)
        .map(|(index, _)| index)
        .collect()
}
