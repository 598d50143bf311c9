//! A person lets come again what was erased here.

use std::collections::{BTreeSet, HashSet};

use sea_orm::{ColumnTrait, DatabaseTransaction, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::below::below;
use super::marks::{Marks, Named};
use crate::entities::{erased_records, record_matches};
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::plan::AT_ONCE;
use crate::http::ApiError;

/// Lets a record come again, and what waits below it: hashes and waiting records are let go. With a
/// grower goes every hash that was kept when he was erased. Gives how many records waited beside it.
pub(in crate::exchange::intake) async fn lift(
    tx: &DatabaseTransaction,
    waiting: &record_matches::Model,
) -> Result<u32, ApiError> {
    let marks = Marks::of(tx, waiting.practice_id).await?;
    let lifted = lifted(tx, &marks, waiting).await?;
    let mut rest = erased(tx, waiting).await?;
    let marked = |row: &mut record_matches::Model| {
        let mark = marks.mark(&row.system, (row.kind, &row.their_id));
        mark.is_some_and(|mark| lifted.contains(&mark))
    };
    let mut freed: Vec<record_matches::Model> = rest.extract_if(.., marked).collect();
    let mut of: BTreeSet<Named> = freed.iter().map(Named::from).collect();
    of.insert(waiting.into());
    freed.extend(below(rest, &mut of));
    let ids: HashSet<Uuid> = freed.iter().map(|row| row.id).chain([waiting.id]).collect();
    let named = of
        .iter()
        .filter_map(|it| marks.mark(&it.system, (it.record.kind, it.record.their_id.as_str())));
    forget_marks(tx, waiting.practice_id, lifted.iter().cloned().chain(named).collect()).await?;
    let beside = ids.len().saturating_sub(1);
    forget_matches(tx, waiting.practice_id, ids.into_iter().collect()).await?;
    Ok(u32::try_from(beside).unwrap_or(u32::MAX))
}

/// The hashes that go with that of a record.
async fn lifted(
    tx: &DatabaseTransaction,
    marks: &Marks,
    waiting: &record_matches::Model,
) -> Result<HashSet<String>, ApiError> {
    use erased_records::{Column, Entity};
    let Some(own) = marks.mark(&waiting.system, (waiting.kind, &waiting.their_id)) else {
        return Ok(HashSet::new());
    };
    let of_practice = || Entity::find().filter(Column::PracticeId.eq(waiting.practice_id));
    let row = of_practice().filter(Column::Mark.eq(own.as_str())).one(tx).await?;
    match row {
        Some(row) if waiting.kind == Kind::Grower => {
            let with_him = of_practice().filter(Column::GrowerId.eq(row.grower_id));
            let with_him = with_him.select_only().column(Column::Mark).into_tuple::<String>();
            Ok(with_him.all(tx).await?.into_iter().collect())
        }
        Some(_) => Ok(HashSet::from([own])),
        None => Ok(HashSet::new()),
    }
}

/// The records of the same records system that wait since they were erased.
async fn erased(
    tx: &DatabaseTransaction,
    waiting: &record_matches::Model,
) -> Result<Vec<record_matches::Model>, ApiError> {
    use record_matches::{Column, Entity};
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(waiting.practice_id))
        .filter(Column::System.eq(waiting.system.as_str()))
        .filter(Column::ErasedAt.is_not_null());
    Ok(rows.all(tx).await?)
}

async fn forget_marks(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    marks: Vec<String>,
) -> Result<(), ApiError> {
    use erased_records::{Column, Entity};
    for some in marks.chunks(AT_ONCE) {
        Entity::delete_many()
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Mark.is_in(some.iter().map(String::as_str)))
            .exec(tx)
            .await?;
    }
    Ok(())
}

async fn forget_matches(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    ids: Vec<Uuid>,
) -> Result<(), ApiError> {
    use record_matches::{Column, Entity};
    for some in ids.chunks(AT_ONCE) {
        Entity::delete_many()
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Id.is_in(some.iter().copied()))
            .exec(tx)
            .await?;
    }
    Ok(())
}
