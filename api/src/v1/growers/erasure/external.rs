//! What records systems said goes as a whole, with their ids: nothing that is kept rests on it. A hash
//! of each id stays, so that the grower does not come back with the next listing.

use std::collections::BTreeSet;

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::carry_out::part;
use super::delete::Deleting;
use super::dto::{ErasedKind, ErasedPart};
use crate::entities::{external_ids, record_conflicts, record_matches};
use crate::exchange::intake::{Candidate, Kind, Named, below, keep_marks};
use crate::http::ApiError;
use crate::ids::Ids;

/// Ids of one statement: databases bound its parameters.
const AT_ONCE: usize = 500;

impl Deleting<'_> {
    /// External ids with what was said last, conflicts, and records that wait.
    pub(super) async fn external(
        self,
        grower_id: Uuid,
        (ids, now): (&Ids, DateTime<Utc>),
    ) -> Result<Vec<ErasedPart>, ApiError> {
        let his = self.scope.external_ids().all(self.tx).await?;
        let mut named: BTreeSet<Named> = his.iter().map(Named::from).collect();
        let conflicts = self
            .delete::<record_conflicts::Entity>(
                (record_conflicts::Column::PracticeId, record_conflicts::Column::Id),
                self.scope.record_conflicts(),
            )
            .await?;
        let tied = self
            .delete::<external_ids::Entity>(
                (external_ids::Column::PracticeId, external_ids::Column::Id),
                self.scope.external_ids(),
            )
            .await?;
        let waiting = self.waiting(grower_id, &mut named).await?;
        let owner = (self.scope.practice_id, grower_id);
        let marks = keep_marks(self.tx, ids, now, owner, &named).await?;
        Ok(vec![
            part(ErasedKind::ExternalIds, tied, 0),
            part(ErasedKind::RecordConflicts, conflicts, 0),
            part(ErasedKind::RecordMatches, waiting, 0),
            part(ErasedKind::ErasedMarks, 0, marks),
        ])
    }

    /// Records that wait and are, or may be, of the grower, and what waits below these and below what
    /// was his. Those are added to `named`.
    async fn waiting(self, grower_id: Uuid, named: &mut BTreeSet<Named>) -> Result<u64, ApiError> {
        use record_matches::{Column, Entity, Model};
        let all = Entity::find().filter(Column::PracticeId.eq(self.scope.practice_id));
        let (mut his, mut others): (Vec<Model>, Vec<Model>) = (Vec::new(), Vec::new());
        for row in all.all(self.tx).await? {
            let list = if is_his(&row, grower_id)? { &mut his } else { &mut others };
            list.push(row);
        }
        named.extend(his.iter().map(Named::from));
        his.extend(below(others, named));
        let ids: Vec<Uuid> = his.iter().map(|row| row.id).collect();
        let mut deleted: u64 = 0;
        for some in ids.chunks(AT_ONCE) {
            let done = Entity::delete_many()
                .filter(Column::PracticeId.eq(self.scope.practice_id))
                .filter(Column::Id.is_in(some.iter().copied()))
                .exec(self.tx)
                .await?;
            deleted = deleted.saturating_add(done.rows_affected);
        }
        Ok(deleted)
    }
}

/// Whether a record is of a grower, or he may be the one it is about, although another is likelier.
fn is_his(row: &record_matches::Model, grower_id: Uuid) -> Result<bool, ApiError> {
    if row.grower_id == Some(grower_id) {
        return Ok(true);
    }
    if row.kind != Kind::Grower {
        return Ok(false);
    }
    let candidates: Vec<Candidate> =
        serde_json::from_value(row.candidates.clone()).map_err(ApiError::internal)?;
    Ok(candidates.iter().any(|candidate| candidate.object_id == grower_id))
}
