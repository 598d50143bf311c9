//! External ids in the database. Every query starts from the caller's scope.

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, Select};

use super::path::ItsId;
use crate::auth::Scope;
use crate::entities::external_ids::{Column, Entity, Model};
use crate::exchange::intake::{self, Kind, System};
use crate::http::ApiError;
use crate::http::page::{Page, PageRequest, RowPlace};

/// The tie of an id, if its object is there and in scope.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    its: &ItsId,
    kind: Kind,
) -> Result<Model, ApiError> {
    let found = intake::find_tie(db, scope, &its.of.system, &its.record(kind)).await?;
    found.ok_or_else(|| ApiError::not_found(kind.word()))
}

/// The ids of a records system in scope.
pub(super) fn of_system(
    scope: Scope,
    system: &System,
    (kind, gone): (Option<Kind>, Option<bool>),
) -> Select<Entity> {
    let mut rows = scope.external_ids().filter(Column::System.eq(system.as_str()));
    if let Some(kind) = kind {
        rows = rows.filter(Column::Kind.eq(kind));
    }
    match gone {
        Some(true) => rows.filter(Column::GoneSince.is_not_null()),
        Some(false) => rows.filter(Column::GoneSince.is_null()),
        None => rows,
    }
}

/// A page of these ids, those that came first first.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    rows: Select<Entity>,
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
    let columns = (Column::Id, Column::LastSeenAt);
    let place = |row: &Model| RowPlace { updated_at: row.last_seen_at, id: row.id };
    page.read(db, rows, columns, place).await
}
