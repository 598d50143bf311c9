//! How long a recommendation and a judged dig take. Run `cargo bench -p domain`.

#[path = "../tests/cases/mod.rs"]
mod cases;

use divan::Bencher;
use domain::provenance::Coefficients;
use domain::settings::recommend;

fn main() {
    divan::main();
}

/// The whole sheet: verdict, forces with ranges, depth, closing, speed, trace.
#[divan::bench]
fn one_recommendation(bencher: Bencher<'_, '_>) {
    let case = cases::worked_case();
    let k = Coefficients::STANDARD;
    bencher.bench(|| recommend(divan::black_box(&case), &k));
}

/// A thousand of them, to see that nothing grows.
#[divan::bench(sample_count = 20)]
fn a_thousand_recommendations(bencher: Bencher<'_, '_>) {
    let case = cases::worked_case();
    let k = Coefficients::STANDARD;
    bencher.bench(|| {
        for _ in 0..1_000 {
            divan::black_box(recommend(divan::black_box(&case), &k));
        }
    });
}
