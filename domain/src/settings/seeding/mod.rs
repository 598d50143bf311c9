//! The seeding rate, and what to count behind the planter.

mod grows;
mod living_cover;

use serde::{Deserialize, Serialize};

use super::spacing::{length_step, row_length_of_acre, seeds_in, spacing, spacing_step};
use crate::conditions::{Conditions, CoverState, Crop};
use crate::provenance::{
    Advice, Assumed, Coefficient, Coefficients, Input, Mark, Reason, Step, sources,
};
use crate::quantity::{ArealNumberDensity, Length, Measured, Ratio, System, bounds, unit};
use grows::{Case, Grows, grows};
use living_cover::{green_reason, green_step};

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

/// Works out rate and spacing for a goal, on ground without living cover.
///
/// The row width of a planter is above 0, so that the advice always has a spacing.
pub fn seeding(
    goal: SeedingGoal,
    crop: Crop,
    row_width: Length,
    k: &Coefficients,
) -> Advice<SeedingAdvice> {
    seeding_with(goal, crop, row_width, None, k)
}

/// The same in a field: soybean that goes into living cover gets some more seed.
///
/// For corn no source says so, and a rate that was decided on stays as it is.
pub fn seeding_in(
    goal: SeedingGoal,
    field: &Conditions,
    row_width: Length,
    k: &Coefficients,
) -> Advice<SeedingAdvice> {
    let green = field.cover.is_some_and(|cover| cover.state.is_some_and(CoverState::is_green));
    let more = (green && field.crop == Crop::Soybean).then_some(&k.green_soybean_rate);
    seeding_with(goal, field.crop, row_width, more, k)
}

fn seeding_with(
    goal: SeedingGoal,
    crop: Crop,
    row_width: Length,
    more: Option<&Coefficient>,
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
            let mut steps = vec![rate_step(stand, &grows, &rates, case.survival)];
            let mut because = vec![case.reason()];
            let rates = match more {
                Some(more) => {
                    because.push(green_reason(more));
                    let raised = rates.raised(more);
                    steps.push(green_step(&rates, &raised, more));
                    raised
                }
                None => rates,
            };
            advice(&rates, row_width, because, assumed, steps)
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

fn rate_step(stand: f64, grows: &Grows, rates: &Rates, k: &Coefficient) -> Step {
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
        source: k.source.clone(),
        mark: k.mark,
    }
}

fn per_acre(count: f64) -> f64 {
    unit(bounds::SEED_POPULATION.us).map_or(0.0, |u| u.to_si(count))
}

/// International foot in m.
const FOOT: f64 = 0.3048;

const AS_DECIDED: Reason =
    Reason::fixed("the rate that was decided on", Mark::Derived, sources::DEFINITION);
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
