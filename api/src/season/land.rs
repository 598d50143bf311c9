//! A field behind a planter, with all that ever happened there, from its rows.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, Utc};
use domain::learning::SoilClass;
use domain::season::{DigSeen, FieldLook, FieldSeason, Outcome, Planted, Proposed, Revision, Sums};
use sea_orm::{
    ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect, QueryTrait, Select,
};
use uuid::Uuid;

use super::facts::seen;
use crate::entities::{adjustments, plantings, recommendations, season_digs};
use crate::http::ApiError;
use crate::v1::practice::SeasonCalendar;

/// A field behind a planter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Land {
    /// The planter.
    pub planter_id: Uuid,
    /// The field.
    pub field_id: Uuid,
}

/// What happened on a field behind a planter.
#[derive(Debug, Default)]
pub(super) struct Happened {
    revisions: Vec<Revision>,
    digs: Vec<DigSeen>,
    proposed: Vec<Proposed>,
    planted: Vec<Planted>,
}

/// Which land is read.
#[derive(Debug, Clone, Copy)]
pub(super) enum Which<'a> {
    /// One field behind one planter.
    One(Land),
    /// All fields behind these planters.
    Behind(&'a [Uuid]),
}

impl Which<'_> {
    fn filter<E: EntityTrait>(
        self,
        rows: Select<E>,
        planter: E::Column,
        field: E::Column,
    ) -> Select<E> {
        match self {
            Self::One(land) => {
                rows.filter(planter.eq(land.planter_id)).filter(field.eq(land.field_id))
            }
            Self::Behind(planters) => rows.filter(planter.is_in(planters.iter().copied())),
        }
    }
}

/// All that happened on some land.
pub(super) async fn happened(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    which: Which<'_>,
) -> Result<BTreeMap<Land, Happened>, ApiError> {
    let mut lands = BTreeMap::<Land, Happened>::new();
    let series = revisions(db, practice_id, which, &mut lands).await?;
    let land_of_dig = digs(db, practice_id, which, &mut lands).await?;
    proposed(db, practice_id, which, &land_of_dig, &mut lands).await?;
    planted(db, practice_id, which, &series, &mut lands).await?;
    Ok(lands)
}

type RevisionRow = (Uuid, Uuid, Uuid, Uuid, DateTime<Utc>, Option<DateTime<Utc>>);

/// Gives the series of each revision.
async fn revisions(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    which: Which<'_>,
    lands: &mut BTreeMap<Land, Happened>,
) -> Result<BTreeMap<Uuid, u128>, ApiError> {
    use recommendations::{Column, Entity};
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::IssuedAt.is_not_null());
    let rows: Vec<RevisionRow> = which
        .filter(rows, Column::PlanterId, Column::FieldId)
        .select_only()
        .columns([Column::PlanterId, Column::FieldId, Column::Id, Column::SeriesId])
        .columns([Column::IssuedAt, Column::AcknowledgedAt])
        .into_tuple()
        .all(db)
        .await?;
    let mut known = BTreeMap::new();
    for (planter_id, field_id, id, series_id, issued_at, seen_at) in rows {
        let series = series_id.as_u128();
        known.insert(id, series);
        let land = lands.entry(Land { planter_id, field_id }).or_default();
        land.revisions.push(Revision { series, issued_at, seen_at });
    }
    Ok(known)
}

/// Gives the land of each dig.
async fn digs(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    which: Which<'_>,
    lands: &mut BTreeMap<Land, Happened>,
) -> Result<BTreeMap<Uuid, Land>, ApiError> {
    use season_digs::{Column, Entity};
    let rows = Entity::find().filter(Column::PracticeId.eq(practice_id));
    let rows = which.filter(rows, Column::PlanterId, Column::FieldId).all(db).await?;
    let mut known = BTreeMap::new();
    for row in rows {
        let land = Land { planter_id: row.planter_id, field_id: row.field_id };
        known.insert(row.id, land);
        lands.entry(land).or_default().digs.push(seen(&row)?);
    }
    Ok(known)
}

type ProposedRow = (Uuid, adjustments::Status, DateTime<Utc>, Option<DateTime<Utc>>);

async fn proposed(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    which: Which<'_>,
    digs: &BTreeMap<Uuid, Land>,
    lands: &mut BTreeMap<Land, Happened>,
) -> Result<(), ApiError> {
    use adjustments::{Column, Entity, Status};
    use season_digs::Column as Dig;
    let here = season_digs::Entity::find().filter(Dig::PracticeId.eq(practice_id));
    let here = which.filter(here, Dig::PlanterId, Dig::FieldId);
    let here = here.select_only().column(Dig::Id).into_query();
    let rows: Vec<ProposedRow> = Entity::find()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::DigCheckId.in_subquery(here))
        .select_only()
        .columns([Column::DigCheckId, Column::Status, Column::CreatedAt, Column::DecidedAt])
        .into_tuple()
        .all(db)
        .await?;
    for (dig, status, at, decided_at) in rows {
        let Some(land) = digs.get(&dig).and_then(|land| lands.get_mut(land)) else { continue };
        let outcome = match status {
            Status::Proposed => Outcome::Open,
            Status::Accepted => Outcome::Accepted(decided_at.unwrap_or(at)),
            Status::Declined => Outcome::Declined,
        };
        land.proposed.push(Proposed { dig: dig.as_u128(), at, outcome });
    }
    Ok(())
}

async fn planted(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    which: Which<'_>,
    series: &BTreeMap<Uuid, u128>,
    lands: &mut BTreeMap<Land, Happened>,
) -> Result<(), ApiError> {
    use plantings::{Column, Entity};
    let rows = Entity::find().filter(Column::PracticeId.eq(practice_id));
    let rows: Vec<(Uuid, Uuid, Option<Uuid>, NaiveDate)> = which
        .filter(rows, Column::PlanterId, Column::FieldId)
        .select_only()
        .columns([Column::PlanterId, Column::FieldId, Column::RecommendationId, Column::PlantedOn])
        .into_tuple()
        .all(db)
        .await?;
    for (planter_id, field_id, recommendation_id, on) in rows {
        let series = recommendation_id.and_then(|id| series.get(&id).copied());
        let land = lands.entry(Land { planter_id, field_id }).or_default();
        land.planted.push(Planted { series, on });
    }
    Ok(())
}

impl Happened {
    /// The seasons in which anything happened.
    pub(super) fn seasons(&self, calendar: &SeasonCalendar) -> BTreeSet<i32> {
        let issued = self.revisions.iter().map(|it| it.issued_at);
        let seen = self.revisions.iter().filter_map(|it| it.seen_at);
        let moments = issued.chain(seen).chain(self.digs.iter().map(|it| it.dug_at));
        let days = self.planted.iter().map(|it| calendar.season_of_day(it.on));
        moments.map(|at| calendar.season_of(at)).chain(days).collect()
    }

    /// What a season adds up to.
    pub(super) fn sums(
        &self,
        season: i32,
        calendar: &SeasonCalendar,
    ) -> (Sums, FieldLook, SoilClass) {
        let whole = FieldSeason {
            revisions: &self.revisions,
            digs: &self.digs,
            proposed: &self.proposed,
            planted: &self.planted,
            span: calendar.span(season),
            days: calendar.days(season),
            day: &|at| calendar.today(at),
        };
        whole.sums()
    }
}
