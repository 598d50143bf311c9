//! The revisions of the series that a dig belongs to: which one counts, and which one counted when.

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::recommendations::{Column, Model, Status};
use crate::http::ApiError;

/// The revisions of a series.
#[derive(Debug)]
pub(super) struct Series {
    /// Id of the series.
    pub id: Uuid,
    revisions: Vec<Revision>,
}

#[derive(Debug, Clone, Copy)]
struct Revision {
    id: Uuid,
    number: i32,
    status: Status,
    issued_at: Option<DateTime<Utc>>,
}

impl Series {
    /// The series of a sheet.
    pub(super) async fn of(db: &impl ConnectionTrait, sheet: &Model) -> Result<Self, ApiError> {
        let rows: Vec<(Uuid, i32, Status, Option<DateTime<Utc>>)> =
            Scope::of_practice(sheet.practice_id)
                .recommendations()
                .select_only()
                .columns([Column::Id, Column::Revision, Column::Status, Column::IssuedAt])
                .filter(Column::SeriesId.eq(sheet.series_id))
                .into_tuple()
                .all(db)
                .await?;
        let revision = |(id, number, status, issued_at)| Revision { id, number, status, issued_at };
        let mut revisions: Vec<Revision> = rows.into_iter().map(revision).collect();
        revisions.sort_by_key(|it| it.number);
        Ok(Self { id: sheet.series_id, revisions })
    }

    /// Ids of all revisions.
    pub(super) fn ids(&self) -> Vec<Uuid> {
        self.revisions.iter().map(|it| it.id).collect()
    }

    /// The revision that counts now.
    pub(super) fn counts(&self) -> Option<Uuid> {
        let counts = |it: &&Revision| matches!(it.status, Status::Issued | Status::Acknowledged);
        self.revisions.iter().rev().find(counts).map(|it| it.id)
    }

    /// The revision that counted at a time.
    pub(super) fn counted_at(&self, at: DateTime<Utc>) -> Option<Uuid> {
        let issued = |it: &&Revision| it.issued_at.is_some_and(|issued| issued <= at);
        self.revisions.iter().rev().find(issued).map(|it| it.id)
    }

    /// When the first later revision took the place of this one.
    pub(super) fn replaced_at(&self, sheet: &Model) -> Option<DateTime<Utc>> {
        let later = self.revisions.iter().filter(|it| it.number > sheet.revision);
        later.filter_map(|it| it.issued_at).min()
    }
}
