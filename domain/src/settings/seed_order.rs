//! Seed to order for fields: seeds, units and weight, with a spare, rounded up.

use serde::{Deserialize, Serialize};

use crate::conditions::Crop;
use crate::provenance::{Assumed, Coefficient, Coefficients, Input, Mark, Step, sources};
use crate::quantity::{Area, ArealNumberDensity, Measured, Ratio, System, bounds};

/// A field to be planted.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FieldSeed {
    /// Area.
    pub area: Area,
    /// Seeds per area.
    pub rate: ArealNumberDensity,
}

/// How the seed is sold. What the tag does not say is taken from the coefficients.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct SeedPack {
    /// Seeds in a bag or unit, above 0.
    pub seeds_per_unit: Option<f64>,
    /// Seeds in a pound, from the tag, above 0.
    pub seeds_per_pound: Option<f64>,
    /// Share to order above the need.
    pub spare: Option<Ratio>,
}

/// What to order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SeedOrder {
    /// The crop.
    pub crop: Crop,
    /// Area of all fields.
    pub area: Area,
    /// Seeds that go into the ground.
    pub seeds: f64,
    /// Seeds with the spare.
    pub with_spare: f64,
    /// Seeds in a unit.
    pub seeds_per_unit: f64,
    /// Whole units, never below the need with its spare.
    pub units: f64,
    /// Weight of the seed with the spare, pounds.
    pub pounds: f64,
    /// The weight if seeds are as small as is likely.
    pub pounds_low: f64,
    /// The weight if they are as large as is likely.
    pub pounds_high: f64,
    /// What stood in for the tag.
    pub assumed: Vec<Assumed>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// The order for fields of one crop. Nothing for no field.
pub fn seed_order(
    crop: Crop,
    fields: &[FieldSeed],
    pack: &SeedPack,
    k: &Coefficients,
) -> SeedOrder {
    let (per_unit, per_pound) = match crop {
        Crop::Corn => (&k.kernels_per_bag, &k.kernels_per_pound),
        Crop::Soybean => (&k.soybean_per_unit, &k.soybeans_per_pound),
    };
    let mut assumed = Vec::new();
    let mut taken = |given: Option<f64>, k: &Coefficient, words: (&'static str, &'static str)| {
        given.filter(|x| *x > 0.0).unwrap_or_else(|| {
            assumed.push(from_table(k, words));
            k.value
        })
    };
    let seeds_per_unit = taken(pack.seeds_per_unit, per_unit, UNIT);
    let seeds_per_pound = taken(pack.seeds_per_pound, per_pound, POUND);
    let spare = pack.spare.map_or_else(
        || {
            assumed.push(spare_from_table(&k.seed_spare));
            k.seed_spare.value
        },
        Ratio::si,
    );
    let area: f64 = fields.iter().map(|f| f.area.si()).sum();
    let seeds: f64 = fields.iter().map(|f| f.area.si() * f.rate.si()).sum();
    let with_spare = seeds * (1.0 + spare.max(0.0));
    let units = whole_units(with_spare / seeds_per_unit);
    let known = pack.seeds_per_pound.is_some();
    let weight = |per_pound: f64| with_spare / per_pound;
    let order = SeedOrder {
        crop,
        area: Area::from_si(area),
        seeds,
        with_spare,
        seeds_per_unit,
        units,
        pounds: weight(seeds_per_pound),
        pounds_low: weight(if known { seeds_per_pound } else { per_pound.high }),
        pounds_high: weight(if known { seeds_per_pound } else { per_pound.low }),
        assumed,
        steps: Vec::new(),
    };
    let steps = steps(&order, spare, seeds_per_pound, per_pound, (per_unit, pack));
    SeedOrder { steps, ..order }
}

/// The next whole number. A hair above one, from rounding of units of area, is not another unit.
fn whole_units(units: f64) -> f64 {
    (units * (1.0 - 1e-9)).ceil().max(0.0)
}

fn steps(
    it: &SeedOrder,
    spare: f64,
    seeds_per_pound: f64,
    per_pound: &Coefficient,
    (per_unit, pack): (&Coefficient, &SeedPack),
) -> Vec<Step> {
    let acres = bounds::FIELD_AREA.show(it.area, System::Us).0;
    let mean = if acres > 0.0 { it.seeds / acres } else { 0.0 };
    let step =
        |step: &'static str, formula: &'static str, inputs, value, unit: &'static str| Step {
            step: step.into(),
            formula: formula.into(),
            inputs,
            value,
            unit: unit.into(),
            low: None,
            high: None,
            source: sources::DEFINITION.into(),
            mark: Mark::Derived,
        };
    let marked = |step: Step, given: bool, k: &Coefficient| {
        if given { step } else { Step { mark: k.mark, source: k.source.clone(), ..step } }
    };
    let seeds = step(
        "seeds to plant",
        "A P",
        vec![Input::new("A", acres, "[acr_us]"), Input::new("P", mean, "1/[acr_us]")],
        it.seeds,
        "1",
    );
    let units = step(
        "bags or units, before rounding up",
        "seeds (1 + z) / n",
        vec![
            Input::new("seeds", it.seeds, "1"),
            Input::new("z", spare, "1"),
            Input::new("n", it.seeds_per_unit, "1"),
        ],
        it.with_spare / it.seeds_per_unit,
        "1",
    );
    let weight = step(
        "weight of the seed",
        "seeds (1 + z) / n_lb",
        vec![
            Input::new("seeds", it.seeds, "1"),
            Input::new("z", spare, "1"),
            Input::new("n_lb", seeds_per_pound, "1/[lb_av]"),
        ],
        it.pounds,
        "[lb_av]",
    );
    let weight = Step { low: Some(it.pounds_low), high: Some(it.pounds_high), ..weight };
    vec![
        seeds,
        marked(units, pack.seeds_per_unit.is_some(), per_unit),
        marked(weight, pack.seeds_per_pound.is_some(), per_pound),
    ]
}

const UNIT: (&str, &str) = ("seeds in a bag or unit", "read the seed tag");
const POUND: (&str, &str) = ("seeds in a pound", "read the seed tag: lots differ");

fn from_table(k: &Coefficient, (what, instead): (&'static str, &'static str)) -> Assumed {
    let narrow = k.high - k.low < 1.0;
    Assumed {
        what: what.into(),
        used: format!("{:.0}", k.value).into(),
        range: (!narrow).then(|| format!("{:.0} to {:.0}", k.low, k.high).into()),
        instead: instead.into(),
        mark: k.mark,
        source: k.source.clone(),
    }
}

fn spare_from_table(k: &Coefficient) -> Assumed {
    let percent = |x: f64| (x * 100.0).round();
    Assumed {
        what: "seed to spare".into(),
        used: format!("{} %", percent(k.value)).into(),
        range: Some(format!("{} to {} %", percent(k.low), percent(k.high)).into()),
        instead: "say how much more than the need is ordered".into(),
        mark: k.mark,
        source: k.source.clone(),
    }
}
