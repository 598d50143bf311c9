//! `POST /v1/what-if/seed-order`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::Coefficients;
use domain::quantity::{System, bounds};
use domain::settings::{FieldSeed, SeedPack, seed_order};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{entries, number, optional};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::Crop;
use crate::v1::recommendations::answer::SeedOrderOut;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

/// Fields of one crop, and how the seed is sold.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "soybean",
    "fields": [{
        "area": {"value": 1, "unit": "[acr_us]"},
        "rate": {"value": 123_839, "unit": "1/[acr_us]"}
    }],
    "seeds_per_pound": 2800,
    "spare": {"value": 0, "unit": "%"}
})))]
pub(super) struct SeedOrderIn {
    /// The crop.
    pub crop: Crop,
    /// Its fields, each with area and rate.
    #[schema(min_items = 1, max_items = 500)]
    pub fields: Vec<FieldSeedIn>,
    /// Seeds in a bag or unit; 80,000 kernels of corn or 140,000 soybeans when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 100, maximum = 10_000_000, example = 80_000)]
    pub seeds_per_unit: Option<f64>,
    /// Seeds in a pound, from the tag; the usual figure of the crop, with its range, when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 500, maximum = 10_000, example = 2800)]
    pub seeds_per_pound: Option<f64>,
    /// Share to order above the need; the coefficient `seed_spare` when absent. Bound: `share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub spare: Option<Quantity>,
}

/// One field.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "area": {"value": 40, "unit": "[acr_us]"},
    "rate": {"value": 34000, "unit": "1/[acr_us]"}
})))]
pub(super) struct FieldSeedIn {
    /// Area. Bound: `field_area`.
    pub area: Quantity,
    /// Seeds per area. Bound: `seed_population`.
    pub rate: Quantity,
}

/// What to order.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub(super) struct SeedOrderResult {
    /// Seeds, units and weight.
    pub order: SeedOrderOut,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Seed to order.
///
/// Seeds for fields of one crop, with a spare, in whole bags or units, rounded up so that they are
/// never below the need; and the weight by seeds a pound. How seed is packed and how large it is
/// stand from memory where the tag is not given: the answer says so.
///
/// Worked example (University of Nebraska, 2016, Soybean seeding rate tips, for the rate): an acre
/// at 123,839 seeds is 44.2 lb at 2,800 seeds a pound, and one unit. Seeds a pound are ours.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_seed_order", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SeedOrderIn, description = "Fields and seed."),
    responses((status = 200, description = "What to order.", body = SeedOrderResult), ComputeErrors),
)]
#[post("/what-if/seed-order")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SeedOrderIn>,
) -> Result<Answer<SeedOrderResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl SeedOrderIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<SeedOrderResult, ApiError> {
        let (fields, pack) = self.parse()?;
        let order = seed_order(self.crop.into(), &fields, &pack, k);
        Ok(SeedOrderResult {
            trace: trace::steps(order.steps.clone()),
            order: SeedOrderOut::of(&order, system),
        })
    }

    fn parse(&self) -> Result<(Vec<FieldSeed>, SeedPack), ApiError> {
        let mut refused = Refused::default();
        let why = "an order is for a field or more, and a planter has not more than 500";
        refused.take(entries("/fields", self.fields.len(), (1, 500), why));
        let mut fields = Vec::with_capacity(self.fields.len());
        for (index, field) in self.fields.iter().enumerate() {
            let at = format!("/fields/{index}");
            let area = field.area.parse(&format!("{at}/area"), &bounds::FIELD_AREA);
            let rate = field.rate.parse(&format!("{at}/rate"), &bounds::SEED_POPULATION);
            let both = refused.take(area).zip(refused.take(rate));
            fields.extend(both.map(|(area, rate)| FieldSeed { area, rate }));
        }
        let mut within = |pointer: &str, given: Option<f64>, range, why: &str| {
            given.and_then(|value| refused.take(number(pointer, value, range, why)))
        };
        let packed = "bags and units hold thousands of seeds, boxes millions";
        let seeds_per_unit = within("/seeds_per_unit", self.seeds_per_unit, (100.0, 1e7), packed);
        let sized = "corn and soybean have 1,000 to 5,000 seeds a pound";
        let seeds_per_pound = within("/seeds_per_pound", self.seeds_per_pound, (500.0, 1e4), sized);
        let spare = optional(&mut refused, self.spare.as_ref(), "/spare", &bounds::SHARE);
        refused.finish()?;
        Ok((fields, SeedPack { seeds_per_unit, seeds_per_pound, spare }))
    }
}

/// The answer to the example of the body, worked out.
fn example() -> serde_json::Value {
    let field = FieldSeedIn {
        area: Quantity::new(1.0, "[acr_us]"),
        rate: Quantity::new(123_839.0, "1/[acr_us]"),
    };
    let body = SeedOrderIn {
        crop: Crop::Soybean,
        fields: vec![field],
        seeds_per_unit: None,
        seeds_per_pound: Some(2800.0),
        spare: Some(Quantity::new(0.0, "%")),
    };
    body.work_out(System::Us, &Coefficients::STANDARD)
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
