//! What the database knows of records, read many at a time.

use std::collections::{HashMap, HashSet};

use sea_orm::{
    ColumnTrait, ConnectionTrait, EntityTrait, FromQueryResult, QueryFilter, QuerySelect,
};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::{external_ids, record_conflicts, record_matches};
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::{Outcome, PlannedRow, Source};
use crate::exchange::intake::system::their_id;
use crate::exchange::intake::work::{Members, Tie};
use crate::http::ApiError;

/// Ids of one statement: databases bound its parameters.
pub(in crate::exchange::intake) const AT_ONCE: usize = 500;

/// What the database knows.
pub(super) struct Known<'a, C> {
    pub db: &'a C,
    pub scope: Scope,
    pub source: &'a Source,
    /// Members in conflict, by the row of the external id.
    pub conflicts: HashMap<Uuid, Vec<record_conflicts::Model>>,
    /// What came before, by kind and id.
    pub ties: HashMap<(Kind, String), Tie>,
}

/// The part of an external id that tells whether anything has to be done.
#[derive(Debug, FromQueryResult)]
struct Light {
    id: Uuid,
    their_id: String,
    object_id: Uuid,
    grower_id: Option<Uuid>,
    taken_hash: String,
    their_version: Option<String>,
}

impl<'a, C: ConnectionTrait> Known<'a, C> {
    /// Nothing yet.
    pub(super) fn of(db: &'a C, scope: Scope, source: &'a Source) -> Self {
        Self { db, scope, source, conflicts: HashMap::new(), ties: HashMap::new() }
    }

    /// Reads the members in conflict of these ties.
    async fn read_conflicts(&mut self, ties: &[Uuid]) -> Result<(), ApiError> {
        use record_conflicts::{Column, Entity};
        for some in ties.chunks(AT_ONCE) {
            let rows = Entity::find()
                .filter(Column::PracticeId.eq(self.scope.practice_id))
                .filter(Column::ExternalId.is_in(some.iter().copied()));
            for row in rows.all(self.db).await? {
                self.conflicts.entry(row.external_id).or_default().push(row);
            }
        }
        Ok(())
    }

    /// Ties records to what came before. What says the same as then is settled: nothing else has to
    /// be looked at, unless members are in conflict.
    pub(super) async fn tie(
        &mut self,
        rows: &mut [PlannedRow],
        kind: Kind,
        open: &[usize],
    ) -> Result<(), ApiError> {
        let ids = open.iter().filter_map(|index| rows.get(*index)?.incoming.their_id.clone());
        let ids: Vec<String> = ids.collect();
        self.read_ties(kind, ids.clone()).await?;
        let tied = ids.into_iter().filter_map(|id| Some(self.ties.get(&(kind, id))?.id));
        let tied: HashSet<Uuid> = tied.collect();
        self.read_conflicts(&tied.into_iter().collect::<Vec<_>>()).await?;
        for index in open {
            let Some(row) = rows.get_mut(*index) else { continue };
            let Some(id) = row.incoming.their_id.clone() else { continue };
            let Some(tie) = self.ties.get(&(kind, id)) else { continue };
            row.object_id = Some(tie.object_id);
            row.grower_id = tie.grower_id;
            let disputed = self.conflicts.contains_key(&tie.id);
            let says_the_same = tie.hash == row.work.hash && !disputed;
            row.work.tie = Some(tie.clone());
            if says_the_same {
                row.settle(Outcome::Unchanged);
            }
        }
        Ok(())
    }

    /// Reads ties of ids that were not asked for yet.
    pub(super) async fn read_ties(&mut self, kind: Kind, ids: Vec<String>) -> Result<(), ApiError> {
        use external_ids::{Column, Entity};
        let wanted: HashSet<String> =
            ids.into_iter().filter(|id| !self.ties.contains_key(&(kind, id.clone()))).collect();
        let wanted: Vec<String> = wanted.into_iter().collect();
        for some in wanted.chunks(AT_ONCE) {
            let found = Entity::find()
                .select_only()
                .columns([
                    Column::Id,
                    Column::TheirId,
                    Column::ObjectId,
                    Column::GrowerId,
                    Column::TakenHash,
                    Column::TheirVersion,
                ])
                .filter(Column::PracticeId.eq(self.scope.practice_id))
                .filter(Column::System.eq(self.source.system.as_str()))
                .filter(Column::Kind.eq(kind))
                .filter(Column::TheirId.is_in(some.iter().map(String::as_str)))
                .into_model::<Light>()
                .all(self.db)
                .await?;
            for light in found {
                let Light { id, their_id, object_id, grower_id, .. } = light;
                let tie = Tie {
                    id,
                    object_id,
                    grower_id,
                    hash: light.taken_hash,
                    their_version: light.their_version,
                    taken: Members::new(),
                    ours: None,
                };
                self.ties.insert((kind, their_id), tie);
            }
        }
        Ok(())
    }

    /// Those of these objects that have an id in the system already.
    pub(super) async fn tied(&self, objects: &[Uuid]) -> Result<HashSet<Uuid>, ApiError> {
        use external_ids::{Column, Entity};
        let mut tied = HashSet::new();
        for some in objects.chunks(AT_ONCE) {
            let found = Entity::find()
                .select_only()
                .column(Column::ObjectId)
                .filter(Column::PracticeId.eq(self.scope.practice_id))
                .filter(Column::System.eq(self.source.system.as_str()))
                .filter(Column::ObjectId.is_in(some.iter().copied()))
                .into_tuple::<Uuid>();
            tied.extend(found.all(self.db).await?);
        }
        Ok(tied)
    }

    /// Which of these records wait already, by their ids.
    pub(super) async fn waiting(
        &self,
        kind: Kind,
        ids: &[String],
    ) -> Result<HashMap<String, Uuid>, ApiError> {
        use record_matches::{Column, Entity};
        let mut waiting = HashMap::new();
        for some in ids.chunks(AT_ONCE) {
            let found = Entity::find()
                .select_only()
                .columns([Column::TheirId, Column::Id])
                .filter(Column::PracticeId.eq(self.scope.practice_id))
                .filter(Column::System.eq(self.source.system.as_str()))
                .filter(Column::Kind.eq(kind))
                .filter(Column::TheirId.is_in(some.iter().map(String::as_str)))
                .into_tuple::<(String, Uuid)>();
            waiting.extend(found.all(self.db).await?);
        }
        Ok(waiting)
    }

    /// Puts to each record that came new under which id it waits already.
    pub(super) async fn note_matches(&self, rows: &mut [PlannedRow]) -> Result<(), ApiError> {
        for kind in Kind::ALL.iter().copied() {
            let new = |row: &&mut PlannedRow| {
                row.incoming.kind == kind && row.work.tie.is_none() && !row.work.repeats
            };
            let ids = rows.iter_mut().filter(new).filter_map(|row| row.incoming.their_id.clone());
            // What is no id was refused; a database may not even take it.
            let ids = ids.filter(|id| their_id("", id).is_ok());
            let waiting = self.waiting(kind, &ids.collect::<Vec<_>>()).await?;
            for row in rows.iter_mut().filter(new) {
                let id = row.incoming.their_id.as_ref();
                row.match_id = id.and_then(|id| waiting.get(id)).copied();
            }
        }
        Ok(())
    }
}
