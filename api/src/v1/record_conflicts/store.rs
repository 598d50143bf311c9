//! Conflicts in the database. Every query starts from the caller's scope.

use std::collections::HashMap;

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter};
use uuid::Uuid;

use super::dto::RecordConflict;
use crate::auth::Scope;
use crate::entities::external_ids;
use crate::entities::record_conflicts::{Column, Model};
use crate::exchange::intake::{self, Kind, in_words};
use crate::http::ApiError;
use crate::http::page::{Page, PageRequest, RowPlace};

/// Finds a conflict. Someone else's is not found, nor one that was decided.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = scope.record_conflicts().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("conflict"))
}

/// A page of conflicts.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    grower_id: Option<Uuid>,
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
    let mut rows = scope.record_conflicts();
    if let Some(grower_id) = grower_id {
        rows = rows.filter(Column::GrowerId.eq(grower_id));
    }
    let place = |row: &Model| RowPlace { updated_at: row.updated_at, id: row.id };
    page.read(db, rows, (Column::Id, Column::UpdatedAt), place).await
}

/// Conflicts as they go out, with what is here now.
pub(in crate::v1) async fn show(
    db: &impl ConnectionTrait,
    scope: Scope,
    rows: Vec<Model>,
) -> Result<Vec<RecordConflict>, ApiError> {
    let ids = rows.iter().map(|row| row.external_id);
    let ties = scope.external_ids().filter(external_ids::Column::Id.is_in(ids)).all(db).await?;
    let mut ours = HashMap::new();
    for kind in Kind::ALL.iter().copied() {
        let objects = ties.iter().filter(|tie| tie.kind == kind).map(|tie| tie.object_id);
        let objects: Vec<Uuid> = objects.collect();
        if !objects.is_empty() {
            ours.extend(intake::members_now(db, scope, kind, objects).await?);
        }
    }
    let ties: HashMap<Uuid, external_ids::Model> =
        ties.into_iter().map(|tie| (tie.id, tie)).collect();
    let shown = rows.into_iter().filter_map(|row| {
        let tie = ties.get(&row.external_id)?;
        let now = ours.get(&tie.object_id).and_then(|members| members.get(&row.member));
        Some(one(row, tie, now))
    });
    Ok(shown.collect())
}

fn one(row: Model, tie: &external_ids::Model, ours: Option<&serde_json::Value>) -> RecordConflict {
    let Model { id, grower_id, member, base, theirs, version, created_at, updated_at, .. } = row;
    let is_boundary = member == intake::Member::Boundary.word();
    RecordConflict {
        id,
        system: tie.system.clone(),
        kind: tie.kind,
        their_id: tie.their_id.clone(),
        object_id: tie.object_id,
        grower_id,
        member,
        base: base.as_ref().and_then(in_words),
        ours: ours.and_then(in_words),
        their_boundary: is_boundary.then(|| serde_json::from_value(theirs.clone()).ok()).flatten(),
        theirs: in_words(&theirs).unwrap_or_default(),
        version,
        created_at,
        updated_at,
    }
}
