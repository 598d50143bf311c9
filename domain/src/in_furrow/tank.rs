//! How far a tank goes.

use serde::{Deserialize, Serialize};

use super::flow::read;
use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{Area, Measured, Volume, VolumePerArea};

/// How far a tank goes, and what to pour into it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TankPlan {
    /// Area that a full tank covers.
    pub area: Area,
    /// Product in a full tank.
    pub product: Volume,
    /// Tanks for the area to plant, counting the last one that is filled in part.
    pub fills: Option<u32>,
    /// All product for the area to plant.
    pub product_in_all: Option<Volume>,
}

/// Area of a full tank: tank / rate; product in it: rate of product x area.
///
/// `None` where the rate is not above 0.
pub fn tank_plan(
    tank: Volume,
    rate: VolumePerArea,
    product: VolumePerArea,
    to_plant: Option<Area>,
) -> Option<(TankPlan, Step)> {
    let rate_si = Some(rate.si()).filter(|rate| *rate > 0.0)?;
    let area = Area::from_si(tank.si() / rate_si);
    let of_product = |area: Area| Volume::from_si(product.si() * area.si());
    let plan = TankPlan {
        area,
        product: of_product(area),
        // A field that just fits needs one tank, whatever the last binary digit of the division is.
        fills: to_plant.and_then(|all| whole((all.si() / area.si() - 1e-9).ceil())),
        product_in_all: to_plant.map(of_product),
    };
    let step = Step {
        step: "area of a full tank".into(),
        formula: "T / R".into(),
        inputs: vec![
            Input::new("T", read(tank, "[gal_us]"), "[gal_us]"),
            Input::new("R", read(rate, "[gal_us]/[acr_us]"), "[gal_us]/[acr_us]"),
        ],
        value: read(area, "[acr_us]"),
        unit: "[acr_us]".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    };
    Some((plan, step))
}

/// A number without a part after the point as a whole number; `None` where there is none.
fn whole(number: f64) -> Option<u32> {
    format!("{number:.0}").parse().ok()
}
