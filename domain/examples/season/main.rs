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
use play::{Policy, Story, play};

fn nothing() -> Learned {
    Learned::nothing(Prior::of(&K), Reading::of(&K), 2026)
}

fn main() {
    let fields: u64 = std::env::args().nth(1).and_then(|n| n.parse().ok()).unwrap_or(10_000);
    let cases = drawn(fields);
    let all = |policy: Policy, protocol: Protocol| -> (Policy, Vec<Story>) {
        (policy, on_all_cores(&cases, |case| play(case, policy, protocol, &mut nothing())))
    };
    println!("\nThe plain protocol: at each dig four rows with ten seeds each, at one place.");
    let plain = [Policy::Learning, Policy::OneDig, Policy::FixedStep]
        .map(|policy| all(policy, Protocol::USUAL));
    table::print(&plain);
    println!("Faults of the iron, by the policy that learns:");
    table::print_faults(&plain[0].1);
    let both = [Policy::Learning, Policy::FixedStep];
    let Protocol { places, enough, .. } = Protocol::ADAPTIVE;
    println!(
        "\nThe protocol that asks for more: up to {places} places of four rows before a change while the \
         chance of being in the window stays below {:.0} %, four rows once it is settled. The step \
         rule digs all places each time.",
        100.0 * enough.unwrap_or(1.0)
    );
    table::print_short(&both.map(|policy| all(policy, Protocol::ADAPTIVE)));
    println!(
        "\nThe plain protocol on planters that log the load of each row. The step rule adds 50 lbf below \
         the window and takes off 50 lbf above it."
    );
    table::print_short(&both.map(|policy| all(policy, Protocol::LOGGED)));
    fifth_field(fields / 5);
}

/// One answer for each, in order.
fn on_all_cores<T: Sync, R: Send>(all: &[T], answer: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let share = all.len().div_ceil(cores).max(1);
    std::thread::scope(|scope| {
        let workers: Vec<_> = all
            .chunks(share)
            .map(|part| scope.spawn(|| part.iter().map(&answer).collect::<Vec<R>>()))
            .collect();
        workers.into_iter().flat_map(|worker| worker.join().expect("a worker ends")).collect()
    })
}

/// Why a field is left out.
#[derive(PartialEq)]
enum LeftOut {
    NoRoom,
    Beyond,
}

/// Fields that the hardware can serve, each with a planter of its own.
fn drawn(fields: u64) -> Vec<Case> {
    let wanted = usize::try_from(fields).expect("few");
    let (mut no_room, mut beyond, mut id) = (0, 0, 0);
    let mut cases = Vec::new();
    while cases.len() < wanted {
        let ids: Vec<u64> = (id + 1..=id + 2_000).collect();
        for drawn in on_all_cores(&ids, |id| field(*id)) {
            if cases.len() == wanted {
                break;
            }
            id += 1;
            match drawn {
                Ok(case) => cases.push(case),
                Err(LeftOut::NoRoom) => no_room += 1,
                Err(LeftOut::Beyond) => beyond += 1,
            }
        }
    }
    println!(
        "{id} fields drawn; left out: {no_room} too wet for any force, {beyond} that no setting of the planter serves; played: {}",
        cases.len()
    );
    cases
}

fn field(id: u64) -> Result<Case, LeftOut> {
    let mut dice = Dice::of(id, 9);
    let factor = dice.between(0.5_f64.ln(), 2.0_f64.ln()).exp();
    let case = Case::of(id, Machine::of(id, true), id, id, factor);
    if !case.sheet.down_force.window.room {
        Err(LeftOut::NoRoom)
    } else if case.servable() {
        Ok(case)
    } else {
        Err(LeftOut::Beyond)
    }
}

/// Five fields of one planter in one soil and cover class, one after the other.
fn fifth_field(planters: u64) {
    let (class, planter) = CLASS_AND_PLANTER;
    println!(
        "\nFirst pass on five fields of one planter in one class, one after the other, {planters} planters. \
         Assumed: classes differ by {class} and planters by {planter} (standard deviations of the natural \
         logarithm of resistance), the fields of a planter by"
    );
    for field_sd in [0.08, 0.12, 0.18] {
        let planters: Vec<u64> = (1_000_001..=1_000_000 + planters).collect();
        let passes = on_all_cores(&planters, |planter| five_fields(*planter, field_sd));
        let share = |number: usize| {
            let played = || passes.iter().filter_map(move |p| p[number]);
            format!(
                "{:.1} %",
                100.0 * played().filter(|inside| *inside).count() as f64 / played().count() as f64
            )
        };
        let shares: Vec<String> = (0..5).map(share).collect();
        println!("  {field_sd}: in the window {}", shares.join(", "));
    }
}

/// How much classes and planters differ in truth, ln.
const CLASS_AND_PLANTER: (f64, f64) = (0.22, 0.30);

/// Whether the first pass on each field was in the window; none where the planter cannot serve it.
fn five_fields(planter: u64, field_sd: f64) -> [Option<bool>; 5] {
    let machine = Machine::of(planter, false);
    let mut dice = Dice::of(planter, 9);
    let base = dice.normal(CLASS_AND_PLANTER.0) + dice.normal(CLASS_AND_PLANTER.1);
    let mut learned = nothing();
    [0, 1, 2, 3, 4].map(|number| {
        let id = planter * 100 + number;
        let factor = (base + Dice::of(id, 9).normal(field_sd)).exp().clamp(0.5, 2.0);
        let case = Case::of(id, machine.clone(), planter, planter, factor);
        let served = case.sheet.down_force.window.room && case.servable();
        served.then(|| play(&case, Policy::Learning, Protocol::USUAL, &mut learned).inside[0])
    })
}
