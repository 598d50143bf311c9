//! Seeding rate: published sums and what is kept as decided.

mod cases;

use cases::q;
use domain::conditions::Crop;
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, System, bounds};
use domain::settings::{SeedingGoal, seeding};

const K: Coefficients = Coefficients::STANDARD;

fn inches(length: Length) -> f64 {
    length.si() / 0.0254
}

fn per_acre(x: domain::quantity::ArealNumberDensity) -> f64 {
    bounds::SEED_POPULATION.show(x, System::Us).0
}

#[test]
fn a_rate_that_was_decided_on_is_kept() {
    let goal = SeedingGoal::Rate { seeds: q(34_000.0, "1/[acr_us]") };
    let advice = seeding(goal, Crop::Corn, q(30.0, "[in_i]"), &K).choice;
    assert!((per_acre(advice.rate) - 34_000.0).abs() < 1e-6);
    assert!((inches(advice.spacing) - 6.150).abs() < 0.001, "spacing table: 6.150 in");
    assert!((advice.seeds_per_foot - 1.951).abs() < 0.001, "spacing table: 1.951 per ft");
    assert!((advice.seeds_in_thousandth - 34.0).abs() < 1e-9);
}

#[test]
fn soybean_follows_the_published_sum() {
    let goal = |survival| SeedingGoal::Stand {
        plants: Some(q(100_000.0, "1/[acr_us]")),
        germination: Some(q(95.0, "%")),
        survival,
    };
    // 100,000 / (0.95 x 0.85) = 123,839 (University of Nebraska 2016).
    let given = seeding(goal(Some(q(85.0, "%"))), Crop::Soybean, q(15.0, "[in_i]"), &K);
    assert!((per_acre(given.choice.rate) - 123_839.0).abs() < 1.0);
    assert!(given.assumed.is_empty());
    let usual = seeding(goal(None), Crop::Soybean, q(15.0, "[in_i]"), &K);
    assert!((per_acre(usual.choice.rate) - 123_839.0).abs() < 1.0, "85 % is the usual survival");
    assert!(
        usual.choice.rate_low < usual.choice.rate && usual.choice.rate < usual.choice.rate_high
    );
    assert_eq!(usual.assumed.len(), 1);
}

#[test]
fn corn_takes_ten_percent_more_seed_than_plants() {
    let goal = SeedingGoal::Stand {
        plants: Some(q(30_000.0, "1/[acr_us]")),
        germination: None,
        survival: None,
    };
    let advice = seeding(goal, Crop::Corn, q(30.0, "[in_i]"), &K);
    assert!((per_acre(advice.choice.rate) - 33_000.0).abs() < 10.0);
    assert_eq!(advice.assumed.len(), 2);
}
