//! Plays seasons on fields whose truth nobody knows, and prints how far digs lead.
//!
//! `cargo run --release -p domain --example season -- [fields]`
//!
//! The truth follows the same statics as the engine with other numbers: a resistance of 0.5 to 2
//! times what the engine takes as likely (even on the log scale), another exponent of depth, weights
//! nobody knows, springs that tire, soil that differs from spot to spot and dries over the day, a
//! scatter of the load of its own, rows that differ. One planter in ten has a mechanical fault. The
//! digger digs four rows with ten seeds each and gets one answer in twenty wrong. All of these are
//! assumptions of this example; those that move the result most stand in `digger.rs` and `truth.rs`.
#![expect(
    clippy::print_stdout,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::cast_precision_loss,
    clippy::as_conversions,
    reason = "an example prints, may fail loudly, and counts fields"
)]

mod case;
mod dice;
mod digger;
mod field;
mod iron;
mod play;
mod table;
mod truth;

use dice::Dice;
use domain::learning::{Learned, Prior, Reading};

use case::Case;
use digger::Protocol;
use field::K;
use iron::Machine;
use play::{Policy, ROUNDS, Story, play};

fn nothing() -> Learned {
    Learned::nothing(Prior::of(&K), Reading::of(&K), 2026)
}

fn main() {
    let fields: u64 = std::env::args().nth(1).and_then(|n| n.parse().ok()).unwrap_or(10_000);
    let cases = drawn(fields);
    let played: Vec<(Policy, Vec<Story>)> = [Policy::Learning, Policy::Proposal, Policy::FixedStep]
        .map(|policy| {
            let all = cases
                .iter()
                .map(|case| play(case, policy, Protocol::USUAL, &mut nothing()))
                .collect();
            (policy, all)
        })
        .into();
    table::print(&played);
    println!("Faults, by the policy that learns:");
    table::print_faults(&played[0].1);
    fifth_field(fields / 5);
    with_more(&cases[..cases.len() / 4]);
}

/// Fields that the hardware can serve, each with a planter of its own.
fn drawn(fields: u64) -> Vec<Case> {
    let (mut no_room, mut beyond) = (0, 0);
    let mut cases = Vec::new();
    let mut id = 0;
    while cases.len() < usize::try_from(fields).expect("few") {
        id += 1;
        let mut dice = Dice::of(id, 9);
        let factor = dice.between(0.5_f64.ln(), 2.0_f64.ln()).exp();
        let case = Case::of(id, Machine::of(id, true), id, id, factor);
        if !case.sheet.down_force.window.room {
            no_room += 1;
        } else if !case.servable() {
            beyond += 1;
        } else {
            cases.push(case);
        }
    }
    println!(
        "{id} fields drawn; left out: {no_room} too wet for any force, {beyond} that no setting of the planter serves; played: {}",
        cases.len()
    );
    cases
}

/// What more to look at would bring.
fn with_more(cases: &[Case]) {
    println!("In the window after 0, 1, 2, 3 adjustments on {} of these fields:", cases.len());
    let protocols = [
        ("four rows", Protocol::USUAL),
        ("eight rows, at two places", Protocol { places: 2, ..Protocol::USUAL }),
        ("four rows with a logged load", Protocol { logged: true, ..Protocol::USUAL }),
    ];
    for (name, protocol) in protocols {
        let stories: Vec<Story> = cases
            .iter()
            .map(|case| play(case, Policy::Learning, protocol, &mut nothing()))
            .collect();
        let inside = |after: usize| stories.iter().filter(|s| s.inside[after]).count();
        let shares: Vec<String> = (0..=ROUNDS)
            .map(|after| format!("{:.1} %", 100.0 * inside(after) as f64 / stories.len() as f64))
            .collect();
        println!("  {name}: {}", shares.join(", "));
    }
}

/// Five fields of one planter in one soil and cover class, one after the other.
fn fifth_field(planters: u64) {
    println!(
        "First pass on fields of one planter in one class, one after the other, {planters} planters:"
    );
    for field_sd in [0.08, 0.12, 0.18] {
        let mut passes = [(0_usize, 0_usize); 5];
        for planter in 1..=planters {
            five_fields(1_000_000 + planter, field_sd, &mut passes);
        }
        let shares: Vec<String> = passes
            .iter()
            .map(|(of, hits)| format!("{:.1} %", 100.0 * *hits as f64 / *of as f64))
            .collect();
        println!("  fields differ by {field_sd} (ln): in the window {}", shares.join(", "));
    }
}

/// How much classes and planters differ in truth, ln.
const CLASS_AND_PLANTER: (f64, f64) = (0.22, 0.30);

fn five_fields(planter: u64, field_sd: f64, passes: &mut [(usize, usize); 5]) {
    let machine = Machine::of(planter, false);
    let mut dice = Dice::of(planter, 9);
    let base = dice.normal(CLASS_AND_PLANTER.0) + dice.normal(CLASS_AND_PLANTER.1);
    let mut learned = nothing();
    for (number, pass) in (0_u64..).zip(passes) {
        let id = planter * 100 + number;
        let factor = (base + Dice::of(id, 9).normal(field_sd)).exp().clamp(0.5, 2.0);
        let case = Case::of(id, machine.clone(), planter, planter, factor);
        if case.sheet.down_force.window.room && case.servable() {
            let story = play(&case, Policy::Learning, Protocol::USUAL, &mut learned);
            pass.0 += 1;
            pass.1 += usize::from(story.inside[0]);
        }
    }
}
