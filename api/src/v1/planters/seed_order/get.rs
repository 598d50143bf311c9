//! `GET /v1/planters/{id}/seed-order`

use actix_web::get;
use actix_web::web::Data;
use domain::conditions::Crop;
use domain::provenance::Coefficients;
use domain::quantity::System;
use domain::settings::{FieldSeed, SeedPack, seed_order};

use super::dto::{CropOrder, PlanterSeedOrder, SeedOrderQuery, Sown};
use super::gather::gather;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, BadMember, Id, Query};
use crate::v1::coefficients::figures_in_force;
use crate::v1::planters::store;

/// Get the seed to order for a planter.
///
/// Sums the newest recommendation that names a seeding rate of each field, by the area of the
/// field, a crop at a time; with a spare, in whole bags or units. Fields of the grower that are not
/// in it are listed with the reason. How seed is packed stands from memory: the tag wins.
#[utoipa::path(
    tag = "planters", operation_id = "get_planter_seed_order", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), SeedOrderQuery),
    responses(
        (status = 200, description = "Seed, a crop at a time.", body = PlanterSeedOrder),
        GetErrors,
    ),
)]
#[get("/planters/{id}/seed-order")]
pub(in crate::v1::planters) async fn get_seed_order(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<SeedOrderQuery>,
) -> Result<Answer<PlanterSeedOrder>, ApiError> {
    let season = season(&query.0)?;
    let system = System::from(caller.units(query.0.units));
    let planter = store::find(&app.db, caller.scope(), id.0).await?;
    let found = gather(&app.db, caller.scope(), &planter, season, &caller.calendar()).await?;
    let k = figures_in_force(&app.db, caller.scope()).await?;
    let crops = [(Crop::Corn, found.corn), (Crop::Soybean, found.soybean)];
    let sown = crops.into_iter().filter(|(_, fields)| !fields.is_empty());
    Ok(Answer::ok(PlanterSeedOrder {
        planter_id: planter.id,
        season: found.season,
        orders: sown.map(|(crop, fields)| order(crop, fields, &k, system)).collect(),
        left_out: found.left_out,
    }))
}

fn order(crop: Crop, fields: Vec<Sown>, k: &Coefficients, system: System) -> CropOrder {
    let seed: Vec<FieldSeed> = fields.iter().map(|field| field.seed).collect();
    let order = seed_order(crop, &seed, &SeedPack::default(), k);
    CropOrder::of(&order, fields, system)
}

fn season(query: &SeedOrderQuery) -> Result<Option<i32>, BadMember> {
    let Some(year) = query.season.filter(|year| !(2000..=2200).contains(year)) else {
        return Ok(query.season);
    };
    Err(BadMember::new("?season", "This is no season.")
        .given(year)
        .allowed("a year from 2000 to 2200"))
}
