//! What happened in the shed to the planters that are used in a field.

use chrono::{DateTime, NaiveDate, NaiveTime, Utc};
use domain::planter::inspection::{ItemCode, Status};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect, QueryTrait};
use uuid::Uuid;

use super::dto::TimelineKind;
use super::moments::Moment;
use super::sheets;
use super::summary::Told;
use crate::auth::Scope;
use crate::entities::{inspections, planters, recommendations, repairs};
use crate::http::ApiError;
use crate::v1::inspections::open::words;
use crate::v1::inspections::shed::{Shed, Visit};

/// Inspections that count, and repairs, of the planters for which there are recommendations here.
pub(super) async fn moments(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    let planters = || {
        let rows = sheets::of_field(scope, field_id).select_only();
        rows.column(recommendations::Column::PlanterId).into_query()
    };
    let corrected = scope
        .inspections()
        .filter(inspections::Column::ReplacesId.is_not_null())
        .select_only()
        .column(inspections::Column::ReplacesId)
        .into_query();
    let seen: Vec<(NaiveDate, Uuid, Uuid)> = scope
        .inspections()
        .select_only()
        .columns([
            inspections::Column::InspectedOn,
            inspections::Column::Id,
            inspections::Column::CreatedBy,
        ])
        .filter(inspections::Column::PlanterId.in_subquery(planters()))
        .filter(inspections::Column::Id.not_in_subquery(corrected))
        .into_tuple()
        .all(db)
        .await?;
    let mended: Vec<(NaiveDate, Uuid, Uuid)> = scope
        .repairs()
        .select_only()
        .columns([repairs::Column::RepairedOn, repairs::Column::Id, repairs::Column::CreatedBy])
        .filter(repairs::Column::PlanterId.in_subquery(planters()))
        .into_tuple()
        .all(db)
        .await?;
    let at = |day: NaiveDate| -> DateTime<Utc> { day.and_time(NaiveTime::MIN).and_utc() };
    let seen = seen
        .into_iter()
        .map(|(day, id, by)| Moment::new(at(day), TimelineKind::PlanterInspected, id, by));
    let mended = mended
        .into_iter()
        .map(|(day, id, by)| Moment::new(at(day), TimelineKind::PlanterRepaired, id, by));
    Ok(seen.chain(mended).collect())
}

/// An inspection in words: what it found bad, by the limits in force. `None` when its planter is gone.
pub(super) async fn inspection(
    db: &impl ConnectionTrait,
    scope: Scope,
    row: &inspections::Model,
) -> Result<Option<Told>, ApiError> {
    let planter = scope.planters().filter(planters::Column::Id.eq(row.planter_id)).one(db).await?;
    let Some(planter) = planter else {
        return Ok(None);
    };
    let shed = Shed::load(db, &planter).await?;
    let visit = Visit::of(row, &shed.planter)?;
    let bad = |wanted: Status| {
        let mut parts: Vec<String> = Vec::new();
        for code in ItemCode::ALL {
            let found = visit.found.iter().filter(|it| it.item == *code);
            let found: Vec<_> = found.filter(|it| shed.judged(it).status == wanted).collect();
            if !found.is_empty() {
                let rows: Vec<u16> = found.iter().filter_map(|it| it.row).collect();
                parts.push(words(*code, &rows));
            }
        }
        parts
    };
    let (replace, watch) = (bad(Status::Replace), bad(Status::Watch));
    let list = |what: &str, parts: &[String]| format!("{what}: {}.", parts.join("; "));
    let said = match (replace.is_empty(), watch.is_empty()) {
        (true, true) => "All that was looked at passes.".to_owned(),
        (true, false) => list("To watch", &watch),
        (false, true) => list("To replace or mend", &replace),
        (false, false) => {
            format!("{} {}", list("To replace or mend", &replace), list("To watch", &watch))
        }
    };
    let title = format!("{} in the shed", planter.name);
    Ok(Some(Told { title, summary: said }))
}

/// A repair in words.
pub(super) fn repair(row: &repairs::Model) -> Result<Told, ApiError> {
    let rows: Vec<u16> = serde_json::from_value(row.rows.clone()).map_err(ApiError::internal)?;
    let what = ItemCode::named(&row.item).map_or_else(|| row.item.clone(), |it| words(it, &rows));
    let how = if row.new_part { "new part" } else { "set or mended" };
    Ok(Told { title: "Repair".to_owned(), summary: format!("{what}: {how}.") })
}
