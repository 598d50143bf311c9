//! Ten thousand different fields recomputed, on one thread and on two.
//!
//! `cargo bench -p domain --bench batch`. Wall times hang on the machine; what travels is how much
//! faster two threads are, and a recommendation in multiples of one bare balance.
#![expect(clippy::print_stdout, reason = "a bench prints what it found")]

#[path = "../tests/cases/mod.rs"]
mod cases;

use std::hint::black_box;
use std::thread;
use std::time::{Duration, Instant};

use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured};
use domain::settings::forces::Balance;
use domain::settings::{Inputs, recommend};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

const FIELDS: u32 = 10_000;
const TRIES: usize = 5;
/// What the engine is asked for on two cores.
const WANTED_EACH: Duration = Duration::from_micros(200);
const WANTED_ALL: Duration = Duration::from_secs(2);

/// Fields and planters of every kind, the same in every run.
fn inputs() -> Vec<Inputs> {
    let mut runner = TestRunner::deterministic();
    let any = cases::inputs();
    (0..FIELDS).filter_map(|_| Some(any.new_tree(&mut runner).ok()?.current())).collect()
}

fn recompute(fields: &[Inputs]) {
    for field in fields {
        black_box(recommend(black_box(field), &Coefficients::STANDARD));
    }
}

/// Each share of the fields on its own thread.
fn recompute_on(threads: usize, fields: &[Inputs]) {
    thread::scope(|scope| {
        for share in fields.chunks(fields.len().div_ceil(threads)) {
            scope.spawn(move || recompute(share));
        }
    });
}

/// The best of some tries: what the machine does when it is left alone.
fn best(work: impl Fn()) -> Duration {
    let once = |_| {
        let start = Instant::now();
        work();
        start.elapsed()
    };
    (0..TRIES).map(once).min().unwrap_or_default()
}

fn bare_balances() {
    let force = black_box(Force::from_si(100.0));
    for _ in 0..FIELDS {
        let balance = black_box(Balance {
            unit: force,
            seed: force,
            attachments: force,
            down_force: force,
            arms: force,
            opener: force,
            coulter: force,
            cleaner: force,
            closing: force,
        });
        black_box(balance.gauge_wheel_load());
    }
}

fn verdict(took: Duration, wanted: Duration) -> &'static str {
    if took < wanted { "kept" } else { "MISSED" }
}

fn main() {
    let fields = inputs();
    let sum = best(bare_balances);
    let alone = best(|| recompute(&fields));
    let paired = best(|| recompute_on(2, &fields));
    let each = alone / FIELDS;
    println!("{} different fields, best of {TRIES}", fields.len());
    println!(
        "one recommendation with ranges: {each:.1?} (asked for {WANTED_EACH:?}: {})",
        verdict(each, WANTED_EACH)
    );
    println!("  that is {:.0} bare balances", alone.as_secs_f64() / sum.as_secs_f64());
    println!("all on one thread: {alone:.2?}");
    println!(
        "all on two threads: {paired:.2?} (asked for {WANTED_ALL:?}: {})",
        verdict(paired, WANTED_ALL)
    );
    println!(
        "  two threads are {:.2} times as fast as one",
        alone.as_secs_f64() / paired.as_secs_f64()
    );
}
