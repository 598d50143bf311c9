//! The seeding rate, and what to count behind the planter.

use serde::{Deserialize, Serialize};

use super::spacing::{length_step, row_length_of_acre, seeds_in, spacing, spacing_step};
use crate::conditions::Crop;
use crate::provenance::{
    Advice, Assumed, Coefficient, Coefficients, Input, Mark, Reason, Step, sources,
};
use crate::quantity::{ArealNumberDensity, Length, Measured, Ratio, System, bounds, unit};

/// What is wanted of a field.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum SeedingGoal {
    /// A final stand; the rate is worked out.
    Stand {
        /// Plants per area at harvest; the usual one where nobody names it.
        plants: Option<ArealNumberDensity>,
        /// Germination on the seed tag.
        germination: Option<Ratio>,
        /// Share of germinating seed that becomes plants.
        survival: Option<Ratio>,
    },
    /// A rate that was decided on.
    Rate {
        /// Seeds per area.
        seeds: ArealNumberDensity,
    },
}

/// The advice on seeding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SeedingAdvice {
    /// Seeds per area to set.
    pub rate: ArealNumberDensity,
    /// Rate if everything grows as well as is likely.
    pub rate_low: ArealNumberDensity,
    /// Rate if it grows as badly as is likely.
    pub rate_high: ArealNumberDensity,
    /// Distance from seed to seed.
    pub spacing: Length,
    /// Seeds in a foot of row.
    pub seeds_per_foot: f64,
    /// Row that is a thousandth of an acre.
    pub thousandth_acre: Length,
    /// Seeds that must lie in it.
    pub seeds_in_thousandth: f64,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// Works out rate and spacing for a goal.
///
/// The row width of a planter is above 0, so that the advice always has a spacing.
pub fn seeding(
    goal: SeedingGoal,
    crop: Crop,
    row_width: Length,
    k: &Coefficients,
) -> Advice<SeedingAdvice> {
    let mut advice = match goal {
        SeedingGoal::Rate { seeds } => {
            let rates = Rates { low: seeds.si(), likely: seeds.si(), high: seeds.si() };
            advice(&rates, row_width, vec![AS_DECIDED], Vec::new(), Vec::new())
        }
        SeedingGoal::Stand { plants, germination, survival } => {
            let mut assumed = Vec::new();
            let case = Case::of(crop, k);
            let stand = plants.map_or_else(
                || {
                    assumed.push(case.unknown_stand());
                    per_acre(case.stand.value)
                },
                Measured::si,
            );
            let grows = grows(&case, germination, survival, &mut assumed);
            let rates = Rates {
                low: stand / grows.high,
                likely: stand / grows.likely,
                high: stand / grows.low,
            };
            let steps = vec![rate_step(stand, &grows, &rates, case.survival)];
            advice(&rates, row_width, vec![case.reason()], assumed, steps)
        }
    };
    if crop == Crop::Corn {
        advice.watch.push(STANDING_COVER);
    }
    advice
}

/// Seeds per m².
struct Rates {
    low: f64,
    likely: f64,
    high: f64,
}

/// Share of the seed that becomes plants.
struct Grows {
    low: f64,
    likely: f64,
    high: f64,
}

struct Case {
    crop: Crop,
    stand: Coefficient,
    germination: Coefficient,
    survival: Coefficient,
}

impl Case {
    const fn of(crop: Crop, k: &Coefficients) -> Self {
        match crop {
            Crop::Corn => Self {
                crop,
                stand: k.stand_corn,
                germination: k.germination_corn,
                survival: k.field_survival_corn,
            },
            Crop::Soybean => Self {
                crop,
                stand: k.stand_soybean,
                germination: k.germination_soybean,
                survival: k.field_survival_soybean,
            },
        }
    }

    const fn reason(&self) -> Reason {
        match self.crop {
            Crop::Corn => CORN_RATE,
            Crop::Soybean => SOYBEAN_RATE,
        }
    }

    fn unknown_stand(&self) -> Assumed {
        let (used, range) = match self.crop {
            Crop::Corn => ("31,000 plants/ac", "28,000 to 34,000 plants/ac"),
            Crop::Soybean => ("100,000 plants/ac", "80,000 to 120,000 plants/ac"),
        };
        Assumed {
            what: "final stand that is wanted".into(),
            used: used.into(),
            range: Some(range.into()),
            instead: "name the stand for this field and hybrid or variety".into(),
            mark: self.stand.mark,
            source: self.stand.source.into(),
        }
    }
}

/// Germination x survival. The corn figure of the table is the share of all seed sown, at a usual
/// tag; it is scaled by the tag that was read.
fn grows(
    case: &Case,
    germination: Option<Ratio>,
    survival: Option<Ratio>,
    assumed: &mut Vec<Assumed>,
) -> Grows {
    let tag = case.germination;
    if germination.is_none() {
        assumed.push(from_table("germination of the seed", tag, "read the seed tag"));
    }
    if survival.is_none() {
        assumed.push(from_table(
            "share of seed that becomes plants",
            case.survival,
            "count stands and compare with the seed sown",
        ));
    }
    let of_all_seed = case.crop == Crop::Corn;
    let product = |g: f64, s: f64| {
        let share = match survival {
            Some(given) => g * given.si(),
            None if of_all_seed => s * g / tag.value,
            None => g * s,
        };
        share.clamp(LEAST_GROWTH, 1.0)
    };
    let g = |table: f64| germination.map_or(table, Measured::si);
    // For corn without a tag the published share already holds the germination.
    let unsure = germination.is_none() && !(of_all_seed && survival.is_none());
    let (low, high) = if unsure { (g(tag.low), g(tag.high)) } else { (g(tag.value), g(tag.value)) };
    Grows {
        low: product(low, case.survival.low),
        likely: product(g(tag.value), case.survival.value),
        high: product(high, case.survival.high),
    }
}

fn advice(
    rates: &Rates,
    row_width: Length,
    because: Vec<Reason>,
    assumed: Vec<Assumed>,
    mut steps: Vec<Step>,
) -> Advice<SeedingAdvice> {
    let rate = ArealNumberDensity::from_si(rates.likely);
    let zero = Length::from_si(0.0);
    let apart = spacing(rate, row_width).unwrap_or(zero);
    let length = row_length_of_acre(0.001, row_width).unwrap_or(zero);
    steps.push(spacing_step(rate, row_width, apart));
    steps.push(length_step(row_width, length));
    Advice {
        choice: SeedingAdvice {
            rate,
            rate_low: ArealNumberDensity::from_si(rates.low),
            rate_high: ArealNumberDensity::from_si(rates.high),
            spacing: apart,
            seeds_per_foot: seeds_in(rate, row_width, Length::from_si(FOOT)),
            thousandth_acre: length,
            seeds_in_thousandth: seeds_in(rate, row_width, length),
            steps,
        },
        because,
        watch: vec![COUNT_BEHIND],
        assumed,
    }
}

fn rate_step(stand: f64, grows: &Grows, rates: &Rates, k: Coefficient) -> Step {
    let show = |x: f64| bounds::SEED_POPULATION.show(ArealNumberDensity::from_si(x), System::Us).0;
    Step {
        step: "seeding rate".into(),
        formula: "P / (share that becomes plants)".into(),
        inputs: vec![
            Input::new("P", show(stand), "1/[acr_us]"),
            Input::new("share that becomes plants", grows.likely, "1"),
        ],
        value: show(rates.likely),
        unit: "1/[acr_us]".into(),
        low: Some(show(rates.low)),
        high: Some(show(rates.high)),
        source: k.source.into(),
        mark: k.mark,
    }
}

fn from_table(what: &'static str, k: Coefficient, instead: &'static str) -> Assumed {
    let percent = |x: f64| (x * 100.0).round();
    Assumed {
        what: what.into(),
        used: format!("{} %", percent(k.value)).into(),
        range: Some(format!("{} to {} %", percent(k.low), percent(k.high)).into()),
        instead: instead.into(),
        mark: k.mark,
        source: k.source.into(),
    }
}

fn per_acre(count: f64) -> f64 {
    unit(bounds::SEED_POPULATION.us).map_or(0.0, |u| u.to_si(count))
}

/// International foot in m.
const FOOT: f64 = 0.3048;
/// Below a hundredth of the seed growing, no rate is sensible.
const LEAST_GROWTH: f64 = 0.01;

const AS_DECIDED: Reason =
    Reason::fixed("the rate that was decided on", Mark::Derived, sources::DEFINITION);
const CORN_RATE: Reason = Reason::fixed(
    "corn planted early: about 10 % more seed than plants wanted; late, 3 to 5 %",
    Mark::Read,
    sources::OHIO_SURVIVAL,
);
const SOYBEAN_RATE: Reason = Reason::fixed(
    "soybean: stand wanted, divided by germination and by the share that survives (about 85 %)",
    Mark::Read,
    sources::NEBRASKA_SEEDING,
);
const COUNT_BEHIND: Reason = Reason::fixed(
    "count seeds in a thousandth of an acre behind two or three rows: each seed is a thousand an acre",
    Mark::Derived,
    sources::DEFINITION,
);
const STANDING_COVER: Reason = Reason::fixed(
    "cover left standing cost 12 % of the corn stand in 2 of 5 site-years",
    Mark::Read,
    sources::SARE_STANDING,
);
