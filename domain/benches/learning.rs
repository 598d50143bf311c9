//! How long it takes to judge a dig with what was learned, and to rebuild what 100,000 digs taught.
//!
//! `cargo bench -p domain --bench learning`.
#![expect(clippy::expect_used, reason = "a bench may fail loudly")]

#[path = "../tests/cases/mod.rs"]
mod cases;
#[path = "../tests/digs/mod.rs"]
mod digs;

use divan::Bencher;
use domain::dig::judge;
use domain::learning::{
    DigEvent, Learned, Place, Prior, Reading, SoilClass, Steps, decide, event_of_dig, need_of_row,
};
use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured};

const K: Coefficients = Coefficients::STANDARD;

fn main() {
    divan::main();
}

fn place(n: u128) -> Place {
    let setup = digs::good();
    Place { class: SoilClass::of(&setup.field), planter: n / 400, field: n / 4, season: 2026 }
}

fn event(n: u128) -> DigEvent {
    digs::good()
        .case(|dig, context| {
            let judged = judge(dig, context);
            event_of_dig(n, place(n), dig, context, &judged.statistics, &judged.findings)
        })
        .expect("an event")
}

/// Events that differ: 250 planters, 100 fields each, four digs a field.
fn events(count: u32) -> Vec<DigEvent> {
    let one = event(0);
    (0..count)
        .map(|n| {
            let mut event = one.clone();
            event.dig = u128::from(n);
            event.place = Place { class: one.place.class, ..one.place };
            event.place.planter = u128::from(n / 400);
            event.place.field = u128::from(n / 4);
            event.balance.pushes += f64::from(n % 97) * 5.0;
            event
        })
        .collect()
}

fn nothing() -> Learned {
    Learned::nothing(Prior::of(&K), Reading::of(&K), 2026)
}

/// Statistics, findings, what the dig teaches on top of 10,000 others, the next force.
#[divan::bench]
fn one_judged_dig_with_learning(bencher: Bencher<'_, '_>) {
    let mut learned = Learned::from_events(Prior::of(&K), Reading::of(&K), 2026, &events(10_000));
    let setup = digs::good();
    setup.case(|dig, context| {
        bencher.bench_local(|| {
            let judged = judge(divan::black_box(dig), context);
            let place = place(0);
            let event = event_of_dig(0, place, dig, context, &judged.statistics, &judged.findings);
            if let Some(event) = event {
                learned.add(&event);
            }
            let need = need_of_row(
                &setup.planter,
                &setup.field,
                &K,
                context.depth_target,
                context.speed,
                context.window,
            );
            let now = Some(Force::from_si(890.0).si());
            let steps = Steps::of(&K, None);
            decide(&setup.planter.down_force, &need, &learned.posterior(&place), now, &steps)
        });
    });
}

/// What one event teaches, alone.
#[divan::bench]
fn one_event(bencher: Bencher<'_, '_>) {
    let event = event(0);
    let mut learned = nothing();
    bencher.bench_local(|| learned.add(divan::black_box(&event)));
}

/// Rebuilt from the list of events.
#[divan::bench(sample_count = 1, sample_size = 1)]
fn a_hundred_thousand_digs(bencher: Bencher<'_, '_>) {
    let all = events(100_000);
    bencher.bench_local(|| {
        Learned::from_events(Prior::of(&K), Reading::of(&K), 2026, divan::black_box(&all))
    });
}

/// The same, one after the other, as they come in over the years.
#[divan::bench(sample_count = 1, sample_size = 1)]
fn a_hundred_thousand_digs_one_by_one(bencher: Bencher<'_, '_>) {
    let all = events(100_000);
    bencher.bench_local(|| {
        let mut learned = nothing();
        for event in &all {
            learned.add(event);
        }
        learned
    });
}
