//! Records that wait, in the database. Every query starts from the caller's scope.

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::record_matches::{Column, Model};
use crate::exchange::intake::{IntakeWait, Kind, System};
use crate::http::ApiError;
use crate::http::page::{Page, PageRequest, RowPlace};

/// Finds a record that waits. Someone else's is not found, nor one that was decided.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = scope.record_matches().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("record that waits"))
}

/// Which records that wait; all where nothing is said.
#[derive(Debug)]
pub(super) struct Wanted {
    /// Only of this records system.
    pub system: Option<System>,
    /// Only of this kind.
    pub kind: Option<Kind>,
    /// Only those that wait for this.
    pub waits_for: Option<IntakeWait>,
    /// Only of this grower.
    pub grower_id: Option<Uuid>,
}

/// A page of the records that wait.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    wanted: Wanted,
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
    let Wanted { system, kind, waits_for, grower_id } = wanted;
    let mut rows = scope.record_matches();
    if let Some(system) = system {
        rows = rows.filter(Column::System.eq(system.as_str()));
    }
    if let Some(kind) = kind {
        rows = rows.filter(Column::Kind.eq(kind));
    }
    if let Some(waits_for) = waits_for {
        rows = rows.filter(Column::WaitsFor.eq(waits_for));
    }
    if let Some(grower_id) = grower_id {
        rows = rows.filter(Column::GrowerId.eq(grower_id));
    }
    let place = |row: &Model| RowPlace { updated_at: row.updated_at, id: row.id };
    page.read(db, rows, (Column::Id, Column::UpdatedAt), place).await
}
