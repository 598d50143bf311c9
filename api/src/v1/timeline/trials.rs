//! What was tried in a field.

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::dto::TimelineKind;
use super::moments::Moment;
use super::summary::Told;
use crate::auth::Scope;
use crate::entities::trials::{self, Column};
use crate::http::ApiError;
use crate::v1::trials::store::{design_of, layout_of};

type TrialRow = (Uuid, Option<DateTime<Utc>>, Option<Uuid>, Option<DateTime<Utc>>, Option<Uuid>);

/// The trials of a field as they were started and closed. A draft has happened nowhere yet.
pub(super) async fn moments(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    let rows: Vec<TrialRow> = scope
        .trials()
        .select_only()
        .columns([Column::Id, Column::StartedAt, Column::StartedBy])
        .columns([Column::ClosedAt, Column::ClosedBy])
        .filter(Column::FieldId.eq(field_id))
        .filter(Column::StartedAt.is_not_null())
        .into_tuple()
        .all(db)
        .await?;
    let mut moments = Vec::with_capacity(rows.len());
    for (id, started_at, started_by, closed_at, closed_by) in rows {
        let started = started_at.zip(started_by);
        moments.extend(started.map(|(at, by)| Moment::new(at, TimelineKind::TrialStarted, id, by)));
        let closed = closed_at.zip(closed_by);
        moments.extend(closed.map(|(at, by)| Moment::new(at, TimelineKind::TrialClosed, id, by)));
    }
    Ok(moments)
}

/// What is compared, and on how much.
pub(super) fn trial(row: &trials::Model, kind: TimelineKind) -> Result<Told, ApiError> {
    let design = design_of(row)?;
    let plots = layout_of(row)?.plots.len();
    let compared = design.treatments.iter().map(|it| it.name.as_str()).collect::<Vec<_>>();
    let compared = compared.join(" against ");
    let title = if kind == TimelineKind::TrialClosed { "Trial closed" } else { "Trial started" };
    let blocks = if design.blocks == 1 { "block" } else { "blocks" };
    let summary = format!("{}: {compared}, {plots} plots in {} {blocks}.", row.name, design.blocks);
    Ok(Told { title: title.to_owned(), summary })
}
