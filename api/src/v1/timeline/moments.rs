//! When what happened, without what it says.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, NaiveTime, SubsecRound, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect, QueryTrait, Select};
use uuid::Uuid;

use super::dto::TimelineKind;
use super::{shed, sheets, stands, trials};
use crate::auth::Scope;
use crate::entities::{adjustments, calibrations, conditions_reports, dig_checks, recommendations};
use crate::http::ApiError;
use crate::v1::practice::SeasonCalendar;

/// The place of an entry in the order: time, then kind, then id.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Place {
    /// When.
    pub at: DateTime<Utc>,
    /// What happened.
    pub kind: TimelineKind,
    /// Id of the object.
    pub id: Uuid,
}

/// Something that happened, and who did it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Moment {
    /// Its place in the order.
    pub place: Place,
    /// Account of whoever did it.
    pub by: Uuid,
}

impl Moment {
    /// To the millisecond, as far as a cursor tells.
    pub(super) fn new(at: DateTime<Utc>, kind: TimelineKind, id: Uuid, by: Uuid) -> Self {
        Self { place: Place { at: at.trunc_subsecs(3), kind, id }, by }
    }
}

/// All that happened in a field, in order.
pub(super) async fn of_field(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    let mut all = conditions(db, scope, field_id).await?;
    all.extend(sheets::moments(db, scope, field_id).await?);
    let digs = digs(db, scope, field_id).await?;
    all.extend(adjustments_of(db, scope, field_id, &digs).await?);
    all.extend(digs);
    all.extend(calibrations_of(db, scope, field_id).await?);
    all.extend(shed::moments(db, scope, field_id).await?);
    all.extend(stands::moments(db, scope, field_id).await?);
    all.extend(trials::moments(db, scope, field_id).await?);
    all.sort_unstable();
    Ok(all)
}

/// The moments of a season: of the one asked for, of the newest entry, or of `now` where nothing
/// has happened yet.
pub(super) fn of_season(
    all: Vec<Moment>,
    asked: Option<i32>,
    now: DateTime<Utc>,
    calendar: &SeasonCalendar,
) -> (i32, Vec<Moment>) {
    let newest = all.last().map_or(now, |moment| moment.place.at);
    let season = asked.unwrap_or_else(|| calendar.season_of(newest));
    let (from, to) = calendar.span(season);
    let inside = |moment: &Moment| from <= moment.place.at && moment.place.at < to;
    let inside = all.into_iter().filter(inside).collect();
    (season, inside)
}

async fn conditions(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    use conditions_reports::Column;
    let rows: Vec<(DateTime<Utc>, Uuid, Uuid)> = scope
        .conditions_reports()
        .select_only()
        .columns([Column::ObservedAt, Column::Id, Column::CreatedBy])
        .filter(Column::FieldId.eq(field_id))
        .into_tuple()
        .all(db)
        .await?;
    let moment = |(at, id, by)| Moment::new(at, TimelineKind::ConditionsReported, id, by);
    Ok(rows.into_iter().map(moment).collect())
}

async fn digs(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    use dig_checks::Column;
    let sheets = ids(sheets::of_field(scope, field_id));
    let rows: Vec<(DateTime<Utc>, Uuid, Uuid)> = scope
        .dig_checks()
        .select_only()
        .columns([Column::DugAt, Column::Id, Column::CreatedBy])
        .filter(Column::RecommendationId.in_subquery(sheets.into_query()))
        .into_tuple()
        .all(db)
        .await?;
    let moment = |(at, id, by)| Moment::new(at, TimelineKind::DigChecked, id, by);
    Ok(rows.into_iter().map(moment).collect())
}

type AdjustmentRow =
    (Uuid, Uuid, adjustments::Status, DateTime<Utc>, Option<DateTime<Utc>>, Option<Uuid>);

/// Whoever dug has proposed.
async fn adjustments_of(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    digs: &[Moment],
) -> Result<Vec<Moment>, ApiError> {
    use adjustments::{Column, Status};
    let sheets = ids(sheets::of_field(scope, field_id));
    let rows: Vec<AdjustmentRow> = scope
        .adjustments()
        .select_only()
        .columns([Column::Id, Column::DigCheckId, Column::Status, Column::CreatedAt])
        .columns([Column::DecidedAt, Column::DecidedBy])
        .filter(Column::RecommendationId.in_subquery(sheets.into_query()))
        .into_tuple()
        .all(db)
        .await?;
    let dug: HashMap<Uuid, Uuid> = digs.iter().map(|it| (it.place.id, it.by)).collect();
    let mut moments = Vec::with_capacity(rows.len());
    for (id, dig_check_id, status, proposed_at, decided_at, decided_by) in rows {
        let by = dug.get(&dig_check_id).copied().unwrap_or_default();
        moments.push(Moment::new(proposed_at, TimelineKind::AdjustmentProposed, id, by));
        let kind = match status {
            Status::Proposed => continue,
            Status::Accepted => TimelineKind::AdjustmentAccepted,
            Status::Declined => TimelineKind::AdjustmentDeclined,
        };
        moments.extend(decided_at.zip(decided_by).map(|(at, by)| Moment::new(at, kind, id, by)));
    }
    Ok(moments)
}

/// The calibrations of the planters for which there are recommendations here.
async fn calibrations_of(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    use calibrations::Column;
    let planters =
        sheets::of_field(scope, field_id).select_only().column(recommendations::Column::PlanterId);
    let rows: Vec<(NaiveDate, Uuid, Uuid)> = scope
        .calibrations()
        .select_only()
        .columns([Column::CalibratedOn, Column::Id, Column::CreatedBy])
        .filter(Column::PlanterId.in_subquery(planters.into_query()))
        .into_tuple()
        .all(db)
        .await?;
    let moment = |(day, id, by): (NaiveDate, Uuid, Uuid)| {
        let at = day.and_time(NaiveTime::MIN).and_utc();
        Moment::new(at, TimelineKind::PlanterCalibrated, id, by)
    };
    Ok(rows.into_iter().map(moment).collect())
}

fn ids(rows: Select<recommendations::Entity>) -> Select<recommendations::Entity> {
    rows.select_only().column(recommendations::Column::Id)
}
