//! Parts that wear, planter by planter.

use chrono::Days;
use domain::planter::inspection::{
    Direction, Item, Measure, RowForecast, Status, direction, worst,
};
use domain::quantity::{Area, Length, Measured};
use domain::season::report::{Named, WornPart};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder, QuerySelect, QueryTrait};

use super::Of;
use crate::entities::{inspections, planters};
use crate::http::ApiError;
use crate::v1::inspections::open::words;
use crate::v1::inspections::shed::Shed;
use crate::v1::wear::acres::Acres;
use crate::v1::wear::history::{Wearing, wearing};

/// Parts that wear, planter by planter: the row that comes first of each part that was measured, as
/// things stood at the end of the season, or stand today.
pub async fn wear(db: &impl ConnectionTrait, of: Of) -> Result<Vec<WornPart>, ApiError> {
    let (_, next) = of.days();
    let last = next.checked_sub_days(Days::new(1)).unwrap_or(next);
    let today = of.calendar.today(of.now).min(last);
    let inspected = of
        .scope
        .inspections()
        .filter(inspections::Column::InspectedOn.lt(next))
        .select_only()
        .column(inspections::Column::PlanterId)
        .into_query();
    let mut rows = of.scope.planters().filter(planters::Column::Id.in_subquery(inspected));
    if let Some(id) = of.planter_id {
        rows = rows.filter(planters::Column::Id.eq(id));
    }
    let mut parts = Vec::new();
    for row in rows.order_by_asc(planters::Column::Name).all(db).await? {
        let mut shed = Shed::load(db, &row).await?;
        shed.visits.retain(|visit| visit.on < next);
        shed.mended.retain(|mended| mended.on < next);
        let acres = Acres::load(db, of.scope, row.id, &shed.visits).await?;
        let planter = Named { id: row.id.as_u128(), name: row.name };
        let wearing_parts = Wearing { shed: &shed, acres: &acres, today };
        let measured = wearing().filter(|item| {
            matches!(item.measure, Some(Measure::Wear(_))) && item.needs.has(&shed.planter)
        });
        parts.extend(measured.filter_map(|item| part(item, &wearing_parts, &planter)));
    }
    Ok(parts)
}

fn part(item: &Item, wearing: &Wearing<'_>, planter: &Named) -> Option<WornPart> {
    let forecasts = wearing.forecast(item);
    let first: &RowForecast = worst(&forecasts)?;
    let rows: Vec<u16> = first.row.into_iter().collect();
    let limit = wearing.shed.limit(item.code).and_then(|limit| limit.replace);
    let value = match direction(item.code)? {
        Direction::Falls => -first.last.worn,
        Direction::Rises | Direction::Between => first.last.worn,
    };
    let [_, on, _] = first.days;
    let at_limit = wearing
        .shed
        .limit(item.code)
        .is_some_and(|limit| limit.status_of(value) == Status::Replace);
    let open = wearing.shed.open().iter().any(|open| open.item == item.code);
    Some(WornPart {
        planter: planter.clone(),
        part: item.code.code().to_owned(),
        words: words(item.code, &rows),
        rows,
        measured_on: wearing.read_on(item, first.row)?,
        measured: Length::from_si(value),
        limit: limit.map(Length::from_si),
        wear_per_area: first.rate.map(|(rate, _)| rate.likely),
        area_left: first.left.and_then(|left| left.likely).map(Area::from_si),
        at_limit_on: on,
        replace: at_limit || open,
    })
}
