//! How long a recommendation and a judged dig take, beside the bare sum they rest on.
//!
//! `cargo bench -p domain`. The figures are wall time on the machine at hand; what travels is
//! their ratio in one run.

#[path = "../tests/cases/mod.rs"]
mod cases;
#[path = "../tests/digs/mod.rs"]
mod digs;

use divan::Bencher;
use domain::dig::judge;
use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured};
use domain::settings::forces::Balance;
use domain::settings::recommend;

const K: Coefficients = Coefficients::STANDARD;

fn main() {
    divan::main();
}

/// One vertical balance, nine numbers added: the yardstick.
#[divan::bench]
fn bare_balance(bencher: Bencher<'_, '_>) {
    let force = Force::from_si(100.0);
    let balance = Balance {
        unit: force,
        seed: force,
        attachments: force,
        down_force: force,
        arms: force,
        opener: force,
        coulter: force,
        cleaner: force,
        closing: force,
    };
    bencher.bench(|| divan::black_box(&balance).gauge_wheel_load());
}

/// The whole sheet: verdict, forces with ranges, depth, closing, speed, what to measure, trace.
#[divan::bench]
fn one_recommendation(bencher: Bencher<'_, '_>) {
    let case = cases::worked_case();
    bencher.bench(|| recommend(divan::black_box(&case), &K));
}

/// A thousand sheets, to see that nothing grows.
#[divan::bench(sample_count = 20)]
fn a_thousand_recommendations(bencher: Bencher<'_, '_>) {
    let case = cases::worked_case();
    bencher.bench(|| {
        for _ in 0..1_000 {
            divan::black_box(recommend(divan::black_box(&case), &K));
        }
    });
}

/// A dig of five rows: statistics, findings, proposal, trace.
#[divan::bench]
fn one_judged_dig(bencher: Bencher<'_, '_>) {
    digs::good().case(|dig, context| bencher.bench_local(|| judge(divan::black_box(dig), context)));
}
