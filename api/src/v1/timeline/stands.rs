//! What was planted in a field, what came up, and what was harvested.

use chrono::{DateTime, NaiveDate, NaiveTime, Utc};
use domain::quantity::{Area, ArealMassDensity, Measured, bounds};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::dto::TimelineKind;
use super::moments::Moment;
use super::summary::Told;
use crate::auth::Scope;
use crate::entities::{plantings, stand_counts, yields};
use crate::http::ApiError;
use crate::http::quantity::Quantity;
use crate::v1::plain::quantity;
use crate::v1::plantings::store::entered_of;
use crate::v1::recommendations::show::Show;
use crate::v1::stand_counts::store::result_of;
use crate::v1::yields::store::Entered as Harvested;

/// The plantings, the stand counts and the harvests of a field. They are known by their day only.
pub(super) async fn moments(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    use {plantings as planted, stand_counts as counted};
    let sown: Vec<(NaiveDate, Uuid, Uuid)> = scope
        .plantings()
        .select_only()
        .columns([planted::Column::PlantedOn, planted::Column::Id, planted::Column::CreatedBy])
        .filter(planted::Column::FieldId.eq(field_id))
        .into_tuple()
        .all(db)
        .await?;
    let seen: Vec<(NaiveDate, Uuid, Uuid)> = scope
        .stand_counts()
        .select_only()
        .columns([counted::Column::CountedOn, counted::Column::Id, counted::Column::CreatedBy])
        .filter(counted::Column::FieldId.eq(field_id))
        .into_tuple()
        .all(db)
        .await?;
    let reaped: Vec<(NaiveDate, Uuid, Uuid)> = scope
        .yields()
        .select_only()
        .columns([yields::Column::HarvestedOn, yields::Column::Id, yields::Column::CreatedBy])
        .filter(yields::Column::FieldId.eq(field_id))
        .into_tuple()
        .all(db)
        .await?;
    let at = |day: NaiveDate| -> DateTime<Utc> { day.and_time(NaiveTime::MIN).and_utc() };
    let sown =
        sown.into_iter().map(|(day, id, by)| Moment::new(at(day), TimelineKind::Planted, id, by));
    let seen = seen
        .into_iter()
        .map(|(day, id, by)| Moment::new(at(day), TimelineKind::StandCounted, id, by));
    let reaped = reaped
        .into_iter()
        .map(|(day, id, by)| Moment::new(at(day), TimelineKind::Harvested, id, by));
    Ok(sown.chain(seen).chain(reaped).collect())
}

/// What was planted.
pub(super) fn planting(row: &plantings::Model, show: Show) -> Result<Told, ApiError> {
    let entered = entered_of(row)?;
    let crop = crop(row.crop);
    let area = row.area_m2.map(|m2| Quantity::show(&bounds::FIELD_AREA, Area::from_si(m2), show.0));
    let parts = [
        area.as_ref().map(quantity),
        entered.seeds.as_ref().map(|seeds| format!("seeded at {}", quantity(seeds))),
        entered.depth.as_ref().map(|depth| format!("{} deep", quantity(depth))),
    ];
    let parts: Vec<String> =
        std::iter::once(crop.to_owned()).chain(parts.into_iter().flatten()).collect();
    Ok(Told { title: "Planted".to_owned(), summary: format!("{}.", parts.join(", ")) })
}

/// What was harvested.
pub(super) fn harvest(row: &yields::Model, show: Show) -> Result<Told, ApiError> {
    let entered: Harvested =
        serde_json::from_value(row.entered.clone()).map_err(ApiError::internal)?;
    let dry = ArealMassDensity::from_si(row.dry_kg_m2);
    let dry = quantity(&Quantity::show(&bounds::GRAIN_YIELD, dry, show.0));
    let grain = quantity(&entered.grain);
    let summary = match &entered.moisture {
        Some(moisture) => format!(
            "{}, {grain} with {} of water: {dry} without.",
            crop(row.crop),
            quantity(moisture)
        ),
        None => format!("{}, {grain} without water.", crop(row.crop)),
    };
    Ok(Told { title: "Harvested".to_owned(), summary })
}

fn crop(crop: plantings::Crop) -> &'static str {
    match crop {
        plantings::Crop::Corn => "Corn",
        plantings::Crop::Soybean => "Soybean",
    }
}

/// What came up.
pub(super) fn stand_count(row: &stand_counts::Model, show: Show) -> Result<Told, ApiError> {
    let found = result_of(row)?.found;
    let stand = |it| {
        let exact = Quantity::show(&bounds::SEED_POPULATION, it, show.0);
        quantity(&Quantity { value: exact.value.round(), ..exact })
    };
    let plants = stand(found.population.stand);
    let sure = found.population.limits;
    let sure = sure
        .map_or_else(String::new, |(low, high)| format!(" ({} to {})", stand(low), stand(high)));
    let of_seed = found.emergence.map(|share| format!(", {:.0} % of the seed", share.value));
    let summary = format!("Plants: {plants}{sure}{}.", of_seed.unwrap_or_default());
    Ok(Told { title: "Stand counted".to_owned(), summary })
}
