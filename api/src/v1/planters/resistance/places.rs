//! Where somebody dug, as far as a question goes.

use chrono::{DateTime, Utc};
use domain::learning::SoilClass;
use sea_orm::{ColumnTrait, ConnectionTrait, PaginatorTrait, QueryFilter, QuerySelect, Select};
use uuid::Uuid;

use crate::entities::dig_lessons::{Column, Cover, Entity, Soil};
use crate::http::ApiError;
use crate::learned::class_of;

/// The digs that a question is about.
#[derive(Debug)]
pub(in crate::v1) struct Places {
    /// Those that teach something, by soil and cover and by what was asked for.
    pub list: Vec<DugHere>,
    /// How many teach nothing.
    pub silent: u64,
}

/// Digs that teach something, in one kind of soil and cover.
#[derive(Debug, Clone, Copy)]
pub(in crate::v1) struct DugHere {
    /// Soil and cover.
    pub class: SoilClass,
    /// The field or the planter.
    pub id: Uuid,
    /// How many.
    pub digs: u64,
    /// When the last one was dug.
    pub last: DateTime<Utc>,
}

impl Places {
    /// Counts digs by soil and cover and by `column`, a field or a planter.
    pub(in crate::v1) async fn of(
        db: &impl ConnectionTrait,
        digs: Select<Entity>,
        column: Column,
    ) -> Result<Self, ApiError> {
        let silent = digs.clone().filter(Column::Event.is_null()).count(db).await?;
        let rows: Vec<(Soil, Cover, Uuid, i64, DateTime<Utc>)> = teaching(digs)
            .select_only()
            .columns([Column::Soil, Column::Cover, column])
            .column_as(Column::Id.count(), "digs")
            .column_as(Column::DugAt.max(), "last")
            .group_by(Column::Soil)
            .group_by(Column::Cover)
            .group_by(column)
            .into_tuple()
            .all(db)
            .await?;
        let here = |(soil, cover, id, digs, last)| DugHere {
            class: class_of(soil, cover),
            id,
            digs: u64::try_from(digs).unwrap_or_default(),
            last,
        };
        Ok(Self { list: rows.into_iter().map(here).collect(), silent })
    }

    /// How many teach something.
    pub(in crate::v1) fn digs(&self) -> u64 {
        self.list.iter().map(|here| here.digs).sum()
    }

    /// When the last of these was dug.
    pub(in crate::v1) fn last(&self) -> Option<DateTime<Utc>> {
        self.list.iter().map(|here| here.last).max()
    }
}

/// Those that teach something.
pub(in crate::v1) fn teaching(digs: Select<Entity>) -> Select<Entity> {
    digs.filter(Column::Event.is_not_null())
}
