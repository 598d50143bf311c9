//! Seed to order, in the caller's units.

use domain::quantity::{Mass, Measured, System, bounds, unit};
use domain::settings::SeedOrder;
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::{Quantity, six_digits};
use crate::v1::conditions::Crop;
use crate::v1::trace::{self, Assumed, TraceStep};

/// Seed to order for an area: whole units, never below the need.
#[derive(Debug, Serialize, ToSchema)]
pub struct SeedOrderOut {
    /// The crop.
    pub crop: Crop,
    /// Area that is planted with it.
    pub area: Quantity,
    /// Seeds that go into the ground.
    #[schema(minimum = 0, example = 4_953_560)]
    pub seeds: f64,
    /// Seeds with the spare.
    #[schema(minimum = 0, example = 5_102_170)]
    pub seeds_with_spare: f64,
    /// Seeds in a bag or unit.
    #[schema(minimum = 1, example = 140_000)]
    pub seeds_per_unit: f64,
    /// Whole bags or units to order.
    #[schema(minimum = 0, example = 37)]
    pub units: f64,
    /// Weight of the seed with the spare.
    pub weight: Quantity,
    /// The weight if seeds are as small as is likely.
    pub weight_low: Quantity,
    /// The weight if they are as large as is likely.
    pub weight_high: Quantity,
    /// What stood in for the seed tag.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation.
    #[schema(max_items = 100)]
    pub trace: Vec<TraceStep>,
}

impl SeedOrderOut {
    /// In these units.
    pub fn of(it: &SeedOrder, system: System) -> Self {
        let weight = |pounds: f64| mass(pounds, system);
        Self {
            crop: it.crop.into(),
            area: Quantity::show(&bounds::FIELD_AREA, it.area, system),
            seeds: six_digits(it.seeds),
            seeds_with_spare: six_digits(it.with_spare),
            seeds_per_unit: six_digits(it.seeds_per_unit),
            units: it.units,
            weight: weight(it.pounds),
            weight_low: weight(it.pounds_low),
            weight_high: weight(it.pounds_high),
            assumed: trace::assumed(it.assumed.clone()),
            trace: trace::steps(it.steps.clone()),
        }
    }
}

/// A mass, in pounds or kilograms.
fn mass(pounds: f64, system: System) -> Quantity {
    let mass = Mass::from_si(unit("[lb_av]").map_or(pounds, |u| u.to_si(pounds)));
    Quantity::show(&bounds::WEIGHED_MASS, mass, system)
}
