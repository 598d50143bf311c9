//! Somebody walks back and digs four rows, ten seeds on each, and misreads now and then.

use domain::conditions::{Conditions, Moisture, TextureGroup};
use domain::dig::{
    Bottom, CleanerRunning, Closure, LoggedLoad, Observation, PrintDepth, RowReading,
    SettingsInUse, Wall, WheelFeel,
};
use domain::planter::Cleaner;
use domain::quantity::{Force, Length, Measured, Ratio};
use domain::settings::Inputs;

use crate::dice::Dice;
use crate::field::INCH;
use crate::iron::Fault;
use crate::truth::AtWork;

/// Share of the answers that are misread.
const MISREAD: f64 = 0.05;
/// Seeds on a row.
const SEEDS: usize = 10;
/// How alike the soil is from one seed to the next: soil changes over about half a metre.
const ALIKE: f64 = 0.74;
/// Furrow bottoms vary by this much, and the tape is held this well, m.
const ROUGHNESS: f64 = 0.07 * INCH;
const HAND: f64 = 0.05 * INCH;

/// Load below which wheels spin at the touch of a hand, N; each reading has its own, by this much in
/// natural logarithms.
const FREE_BELOW: (f64, f64) = (130.0, 0.4);
/// How far the load at which a wheel locks, or leaves a deep print, lies from what the soil bears.
const LOCKED: f64 = 0.10;

/// How a stop is used.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Protocol {
    /// Places at which four rows are dug, at the most.
    pub places: u64,
    /// Chance of being in the window with which no further place is dug; without it all places are
    /// dug each time.
    pub enough: Option<f64>,
    /// Whether the planter logs the load on each row.
    pub logged: bool,
}

impl Protocol {
    /// Four rows at one place each time, wheels turned by hand.
    pub(crate) const USUAL: Self = Self { places: 1, enough: None, logged: false };
    /// Up to three places while it is not settled.
    pub(crate) const ADAPTIVE: Self = Self { places: 3, enough: Some(0.8), logged: false };
    /// Four rows at one place, with a log of the load.
    pub(crate) const LOGGED: Self = Self { logged: true, ..Self::USUAL };
}

/// Standard deviation of a load cell as a share of the load, and how many independent loads are in
/// a log of some tens of metres.
const LOG: (f64, f64) = (0.03, 20.0);

/// Digs four rows: an end, one behind a tyre where there is one, two between.
pub(crate) fn dig(
    id: u64,
    (round, place): (u64, u64),
    work: &AtWork<'_>,
    inputs: &Inputs,
    protocol: Protocol,
) -> Observation {
    let rows = inputs.planter.rows;
    let chosen = chosen_rows(rows, round + place);
    let read = |(row, outer, behind_tyre): (u16, bool, bool)| {
        let mut dice = Dice::of(id, 100 + (round + 10 * place) * 40 + u64::from(row));
        let own = Dice::of(id, 50 + u64::from(row));
        let at = RowReading { outer, behind_tyre, ..RowReading::of(row) };
        let logged_load = protocol.logged.then(|| log(&at, work, own.clone(), &mut dice));
        RowReading { logged_load, ..row_reading(at, work, inputs, own, &mut dice) }
    };
    let settings = SettingsInUse {
        down_force: Some(Force::from_si(work.force)),
        setting: None,
        lever_depth: inputs.goals.lever,
        speed: inputs.goals.speed,
        box_fill: Some(Ratio::from_si(work.fill)),
    };
    let rows_read = chosen.map(read).to_vec();
    Observation::new(settings, rows_read, String::new(), rows).expect("a dig that can be")
}

/// First an end, a row behind a tyre where there is one, and two between; after that other rows
/// between, so that no row speaks twice for the planter.
fn chosen_rows(rows: u16, round: u64) -> [(u16, bool, bool); 4] {
    let usual = |row: u16| (row, false, false);
    match (rows, round) {
        (6, 0) => [(1, true, false), usual(2), usual(4), usual(5)],
        (6, 1) => [usual(3), usual(2), usual(4), usual(5)],
        (6, _) => [(6, true, false), usual(3), usual(4), usual(2)],
        (8, 0) => [(1, true, false), usual(2), (3, false, true), usual(7)],
        (8, 1) => [usual(2), usual(4), usual(5), usual(7)],
        (8, _) => [(8, true, false), usual(2), usual(4), usual(5)],
        (_, 0) => [(1, true, false), usual(3), (rows / 2 - 1, false, true), usual(rows - 2)],
        (_, 1) => [usual(2), usual(4), usual(rows / 2), usual(rows - 1)],
        (..) => [(rows, true, false), usual(3), usual(rows / 2 + 1), usual(rows - 3)],
    }
}

/// What pushes a row down, where its wheels stop it, and how much harder its soil is.
fn of_row(at: &RowReading, work: &AtWork<'_>, own: &mut Dice) -> (f64, f64, f64) {
    let iron = work.iron;
    let end = if at.outer { iron.ends_miss } else { 0.0 };
    let pushes = work.pushes() + own.normal(iron.rows_differ.0) - end;
    let stop = work.stop() + own.normal(iron.rows_differ.1);
    (pushes, stop, if at.behind_tyre { work.ground.in_tracks } else { 1.0 })
}

/// The mean load of a row, as logged over some tens of metres.
fn log(at: &RowReading, work: &AtWork<'_>, mut own: Dice, dice: &mut Dice) -> LoggedLoad {
    let (pushes, stop, track) = of_row(at, work, &mut own);
    let load = pushes - work.ground.metal_at(stop) * track * work.drifted();
    let read = load + dice.normal(work.ground.scatter / LOG.1.sqrt());
    let mean = Force::from_si((read * (1.0 + dice.normal(LOG.0))).max(0.0));
    LoggedLoad { mean, sd: None, contact: None }
}

fn row_reading(
    at: RowReading,
    work: &AtWork<'_>,
    inputs: &Inputs,
    mut own: Dice,
    dice: &mut Dice,
) -> RowReading {
    let iron = work.iron;
    let (pushes, stop, track) = of_row(&at, work, &mut own);
    let mut spot = dice.normal(1.0);
    let hard = |spot: f64| track * work.drifted() * (1.0 + work.ground.spots * spot).max(0.2);
    let next = |spot: &mut f64, dice: &mut Dice| {
        *spot = ALIKE * *spot + dice.normal((1.0 - ALIKE * ALIKE).sqrt());
        hard(*spot)
    };
    let seed_depths = (0..SEEDS)
        .map(|_| {
            let soil = next(&mut spot, dice);
            tape(work.reached(pushes, stop, soil), dice)
        })
        .collect();
    let soil = next(&mut spot, dice);
    let load = pushes - work.ground.metal_at(stop) * soil;
    let too_much = load / work.ground.ceiling;
    let deep_cleaner = iron.fault == Some(Fault::CleanersDeep);
    let residue = dice.happens(0.02);
    let off_bottom = dice.happens(0.01);
    let ridged = dice.happens(0.01);
    RowReading {
        seed_depths,
        gauge_wheels: Some(misread(wheels(load, too_much, dice), &FEELS, dice)),
        print: Some(misread(print(load, too_much, dice), &PRINTS, dice)),
        wall: Some(misread(wall(too_much, &inputs.field), &WALLS, dice)),
        bottom: Some(misread(
            if ridged { Bottom::W } else { Bottom::V },
            &[Bottom::V, Bottom::W],
            dice,
        )),
        residue_in_furrow: Some(misread(residue, &[false, true], dice)),
        seed_on_bottom: Some(misread(!off_bottom, &[false, true], dice)),
        closed: Some(misread(Closure::Closed, &CLOSURES, dice)),
        moist_at_seed: Some(misread(true, &[false, true], dice)),
        cleaner: (inputs.planter.unit.cleaner != Cleaner::None).then(|| {
            let runs = if deep_cleaner {
                CleanerRunning::BelowSurface
            } else {
                CleanerRunning::JustBrushing
            };
            misread(runs, &CLEANERS, dice)
        }),
        ..at
    }
}

const FEELS: [WheelFeel; 3] = [WheelFeel::SpinFree, WheelFeel::TurnWithEffort, WheelFeel::Locked];
const PRINTS: [PrintDepth; 3] = [PrintDepth::None, PrintDepth::Light, PrintDepth::Deep];
const WALLS: [Wall; 3] = [Wall::Crumbly, Wall::Smooth, Wall::Shiny];
const CLOSURES: [Closure; 3] = [Closure::Closed, Closure::Open, Closure::OverPacked];
const CLEANERS: [CleanerRunning; 3] =
    [CleanerRunning::JustBrushing, CleanerRunning::BelowSurface, CleanerRunning::Wrapped];

/// One answer in twenty is another than the true one.
fn misread<T: Copy + PartialEq>(truth: T, all: &[T], dice: &mut Dice) -> T {
    let wrong = dice.happens(MISREAD);
    let others: Vec<T> = all.iter().copied().filter(|one| *one != truth).collect();
    let share = 1.0 / domain::stats::count(others.len());
    let weighed: Vec<(T, f64)> = others.into_iter().map(|one| (one, share)).collect();
    let other = dice.one_of(&weighed);
    if wrong { other } else { truth }
}

/// An eighth of an inch is the finest step; one depth in twenty is read half an inch off.
fn tape(depth: f64, dice: &mut Dice) -> Length {
    let off = if dice.happens(MISREAD) {
        if dice.happens(0.5) { 0.5 * INCH } else { -0.5 * INCH }
    } else {
        0.0
    };
    let read = depth + dice.normal(ROUGHNESS) + dice.normal(HAND) + off;
    let eighth = INCH / 8.0;
    Length::from_si(((read / eighth).round() * eighth).max(0.0))
}

fn wheels(load: f64, too_much: f64, dice: &mut Dice) -> WheelFeel {
    let free = FREE_BELOW.0 * dice.normal(FREE_BELOW.1).exp();
    if load < free {
        WheelFeel::SpinFree
    } else if too_much > 1.0 + dice.normal(LOCKED) {
        WheelFeel::Locked
    } else {
        WheelFeel::TurnWithEffort
    }
}

fn print(load: f64, too_much: f64, dice: &mut Dice) -> PrintDepth {
    let none = 1.2 * FREE_BELOW.0 * dice.normal(FREE_BELOW.1).exp();
    if load < none {
        PrintDepth::None
    } else if too_much > 1.0 + dice.normal(LOCKED) {
        PrintDepth::Deep
    } else {
        PrintDepth::Light
    }
}

fn wall(too_much: f64, field: &Conditions) -> Wall {
    let fine = field.texture.is_some_and(|t| t.group() == TextureGroup::Fine);
    match field.moisture {
        Some(Moisture::Wet | Moisture::AtCapacity) if too_much > 0.8 || fine => Wall::Shiny,
        Some(Moisture::Wet | Moisture::AtCapacity) => Wall::Smooth,
        Some(Moisture::Moist) if too_much > 1.0 => Wall::Shiny,
        Some(Moisture::Moist) if fine => Wall::Smooth,
        _ => Wall::Crumbly,
    }
}
