//! Stands that were counted, field by field.

use std::collections::HashMap;

use domain::conditions::Crop;
use domain::quantity::{ArealNumberDensity, System, bounds};
use domain::season::report::{FieldStand, Named};
use domain::stand::StandFound;
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use uuid::Uuid;

use super::Of;
use crate::entities::{fields, plantings, stand_counts};
use crate::http::ApiError;
use crate::v1::stand_counts::store::result_of;

/// Stands that were counted, field by field: of the plantings of the season, each with its newest
/// count.
pub async fn stands(db: &impl ConnectionTrait, of: Of) -> Result<Vec<FieldStand>, ApiError> {
    let (first, next) = of.days();
    let mut rows = of.scope.plantings();
    rows = rows.filter(plantings::Column::PlantedOn.gte(first));
    rows = rows.filter(plantings::Column::PlantedOn.lt(next));
    if let Some(planter_id) = of.planter_id {
        rows = rows.filter(plantings::Column::PlanterId.eq(planter_id));
    }
    let planted: HashMap<Uuid, plantings::Model> =
        rows.all(db).await?.into_iter().map(|row| (row.id, row)).collect();
    if planted.is_empty() {
        return Ok(Vec::new());
    }
    let counts = of.scope.stand_counts().filter(stand_counts::Column::CountedOn.gte(first));
    let counts = counts
        .order_by_asc(stand_counts::Column::CountedOn)
        .order_by_asc(stand_counts::Column::Id)
        .all(db)
        .await?;
    let newest: HashMap<Uuid, stand_counts::Model> =
        counts.into_iter().map(|row| (row.planting_id, row)).collect();
    let names = names(db, &of).await?;
    let mut found = Vec::with_capacity(newest.len());
    for (planting_id, count) in newest {
        let Some(planting) = planted.get(&planting_id) else { continue };
        let name = names.get(&planting.field_id).cloned().unwrap_or_default();
        found.push(stand(planting, &count, name)?);
    }
    found.sort_by(|a, b| (&a.field.name, a.planted_on).cmp(&(&b.field.name, b.planted_on)));
    Ok(found)
}

async fn names(db: &impl ConnectionTrait, of: &Of) -> Result<HashMap<Uuid, String>, ApiError> {
    use sea_orm::QuerySelect;
    let rows: Vec<(Uuid, String)> = of
        .scope
        .fields()
        .select_only()
        .columns([fields::Column::Id, fields::Column::Name])
        .into_tuple()
        .all(db)
        .await?;
    Ok(rows.into_iter().collect())
}

fn stand(
    planting: &plantings::Model,
    count: &stand_counts::Model,
    name: String,
) -> Result<FieldStand, ApiError> {
    let found = result_of(count)?.found;
    let (low, high) = found.population.limits.unzip();
    Ok(FieldStand {
        field: Named { id: planting.field_id.as_u128(), name },
        crop: planting.crop.into(),
        planted_on: planting.planted_on,
        counted_on: count.counted_on,
        population: found.population.stand,
        population_low: low,
        population_high: high,
        emergence: found.emergence.map(|it| it.value / 100.0),
        words: words(planting.crop.into(), &found),
    })
}

fn words(crop: Crop, found: &StandFound) -> String {
    let thousands =
        |it: ArealNumberDensity| bounds::SEED_POPULATION.show(it, System::Us).0 / 1000.0;
    let stand = thousands(found.population.stand);
    let sure = match found.population.limits {
        Some((low, high)) => {
            format!(" ({:.1} to {:.1})", thousands(low), thousands(high))
        }
        None => " (one count)".to_owned(),
    };
    let crop = match crop {
        Crop::Corn => "corn",
        Crop::Soybean => "soybean",
    };
    let of_seed = found.emergence.map(|share| format!(", {:.0} % of the seed", share.value));
    let gaps = found.gaps.as_ref().filter(|gaps| gaps.count > 0);
    let gaps = gaps.map(|gaps| format!("; {:.0} % of the row in gaps", 100.0 * gaps.share));
    let late = found.late_share.filter(|share| *share > 0.0);
    let late = late.map(|share| format!("; {:.0} % of the plants late", 100.0 * share));
    let more: String = [of_seed, gaps, late].into_iter().flatten().collect();
    format!("{stand:.1} thousand plants of {crop} an acre{sure}{more}.")
}
