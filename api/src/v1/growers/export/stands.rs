//! What is known of the plantings of a grower, the warmth of his farms, his stands and his yields.

use sea_orm::{ConnectionTrait, QueryOrder};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::{air_temperatures, plantings, stand_counts, yields};
use crate::http::ApiError;
use crate::v1::plantings::dto::Planting;
use crate::v1::stand_counts::answer::StandCount;
use crate::v1::temperatures::dto::TemperatureDay;
use crate::v1::units::Units;
use crate::v1::yields::dto::Yield;

/// A day at a farm of the grower.
#[derive(Debug, Serialize, ToSchema)]
pub struct ExportedTemperature {
    /// The farm.
    pub farm_id: Uuid,
    /// The day.
    pub day: TemperatureDay,
}

/// Plantings, temperatures, stand counts and yields, oldest first.
#[derive(Debug)]
pub(super) struct Grown {
    pub plantings: Vec<Planting>,
    pub temperatures: Vec<ExportedTemperature>,
    pub stand_counts: Vec<StandCount>,
    pub yields: Vec<Yield>,
}

/// All that is known of a grower.
pub(super) async fn gather(
    db: &impl ConnectionTrait,
    scope: Scope,
    units: Units,
) -> Result<Grown, ApiError> {
    let planted = scope.plantings().order_by_asc(plantings::Column::Id).all(db).await?;
    let days = scope.air_temperatures().order_by_asc(air_temperatures::Column::Id).all(db).await?;
    let counted = scope.stand_counts().order_by_asc(stand_counts::Column::Id).all(db).await?;
    let harvests = scope.yields().order_by_asc(yields::Column::Id).all(db).await?;
    let temperatures = days.into_iter().map(|row| {
        Ok(ExportedTemperature { farm_id: row.farm_id, day: TemperatureDay::show(row)? })
    });
    Ok(Grown {
        plantings: planted
            .into_iter()
            .map(|row| Planting::show(row, units))
            .collect::<Result<_, _>>()?,
        temperatures: temperatures.collect::<Result<_, ApiError>>()?,
        yields: harvests
            .into_iter()
            .map(|row| Yield::show(row, units))
            .collect::<Result<_, _>>()?,
        stand_counts: counted
            .into_iter()
            .map(|row| StandCount::show(&row, units.into()))
            .collect::<Result<_, _>>()?,
    })
}
