//! What one dig says about the resistance factor.
//!
//! A factor gives a mean load; each row stands on soil of its own, a little harder or softer. Its
//! wheels carry nothing, something, or more than the soil bears, and somebody feels that and sees
//! the print, now and then wrongly. Where the unit rides out, the furrow ends where the soil
//! carries it, and the depth of the seed measures the factor. A dig as a whole may be absurd: then
//! it says nothing, and that keeps one odd dig from moving much.

use serde::{Deserialize, Serialize};

use super::balance::DugBalance;
use super::depth_reached::DepthsFound;
use super::event::RowSeen;
use super::grid::LogDensity;
use crate::dig::{PrintDepth, WheelFeel};
use crate::provenance::Coefficients;
use crate::stats::{Range, phi};

/// How digs are read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Share of the answers that are wrong, 0 to 1.
    pub misread: f64,
    /// Share of the digs that say nothing, whatever they seem to say, 0 to 1.
    pub absurd: f64,
    /// Standard deviation from row to row of what pushes the units down, N.
    pub rows: f64,
    /// Standard deviation from spot to spot of the resistance, as a share of it.
    pub spots: f64,
    /// How much harder the soil is behind a tyre, and the standard deviation of that.
    pub tracks: (f64, f64),
    /// Standard deviation of the load at which wheels begin to feel loaded, N.
    pub free_edge: f64,
    /// Standard deviation of the load at which wheels lock, as a share of it.
    pub locked_edge: f64,
    /// Standard deviation of a logged load, N.
    pub logged: f64,
    /// Standard deviation of a seed depth about the furrow's, tape and stop of the row, m.
    pub depth: f64,
    /// How many independent seeds those of one row are worth at most.
    pub seeds_worth: f64,
    /// Exponent of depth.
    pub exponent: Range,
}

impl Reading {
    /// How the coefficients in force read digs.
    pub fn of(k: &Coefficients) -> Self {
        const INCH: f64 = 0.0254;
        let tracks = &k.harder_behind_tyres;
        Self {
            misread: k.answers_misread.value,
            absurd: k.digs_absurd.value,
            rows: k.row_push_spread.value,
            spots: k.soil_spots.value,
            tracks: (tracks.value, (tracks.high - tracks.low) / 4.0),
            free_edge: (k.wheel_free.high - k.wheel_free.low) / 2.5,
            locked_edge: k.wheel_locked_spread.value,
            logged: k.logged_load_spread.value,
            depth: k.seed_from_furrow.value * INCH,
            seeds_worth: k.seeds_worth.value,
            exponent: Range::of(&k.depth_exponent),
        }
    }
}

/// How often the wall shines below and above what the soil bears.
const SHINES: (f64, f64) = (0.08, 0.7);

/// Loads that a log could show span about this much, N: the height of the flat part.
const LOADS: f64 = 2_500.0;

/// The log likelihood of the log factor from one dig, up to a constant.
pub fn log_likelihood(balance: &DugBalance, rows: &[RowSeen], reading: &Reading) -> LogDensity {
    let depths = DepthsFound::of(balance, rows, reading);
    let nothing = rows.iter().map(flat_row).sum::<f64>() + depths.flat();
    let sane = (1.0 - reading.absurd).ln();
    let absurd = reading.absurd.max(1e-12).ln() + nothing;
    LogDensity::of(|x| {
        let factor = x.exp();
        let usual = At::new(balance, factor, reading, false);
        let tracks = At::new(balance, factor, reading, true);
        let at = |row: &RowSeen| if row.behind_tyre { &tracks } else { &usual };
        let wheels: f64 = rows.iter().map(|row| at(row).row(row, reading)).sum();
        log_sum(&[sane + wheels + depths.log_chance(factor), absurd])
    })
    .levelled()
}

/// The logarithm of a sum of numbers that are given by their logarithms.
pub(super) fn log_sum(all: &[f64]) -> f64 {
    let top = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if top == f64::NEG_INFINITY {
        return top;
    }
    top + all.iter().map(|one| (one - top).exp()).sum::<f64>().ln()
}

/// The log chance of the answers of a row that says nothing.
fn flat_row(row: &RowSeen) -> f64 {
    let answer = (1.0_f64 / 3.0).ln();
    let logged = row.logged.map_or(0.0, |_| -LOADS.ln());
    if row.logged.is_some() {
        return logged;
    }
    let wall = if row.shiny.is_some() { 0.5_f64.ln() } else { 0.0 };
    let answers = [row.wheels.is_some(), row.print.is_some()];
    wall + answers.iter().filter(|given| **given).map(|_| answer).sum::<f64>()
}

/// The rows at one resistance factor.
struct At {
    load: f64,
    /// Spread of the mean load of a row.
    row_sd: f64,
    /// Chances that a wheel carries nothing, something, too much.
    carries: [f64; 3],
}

impl At {
    fn new(balance: &DugBalance, factor: f64, reading: &Reading, tracks: bool) -> Self {
        let (harder, more) = if tracks { reading.tracks } else { (1.0, 0.0) };
        let load = balance.load(factor * harder);
        let spot = reading.spots.hypot(more) * balance.metal * factor;
        let spread = spot.hypot(reading.rows);
        let edges = balance.edges;
        let free = phi((edges.free - load) / spread.hypot(reading.free_edge));
        let stuck = reading.locked_edge * edges.locked;
        let locked = phi((load - edges.locked) / spread.hypot(stuck));
        let something = (1.0 - free - locked).max(0.0);
        let sum = free + locked + something;
        Self { load, row_sd: reading.rows, carries: [free / sum, something / sum, locked / sum] }
    }

    /// The log chance of what was seen on a row. A logged load says more than a turn by hand.
    fn row(&self, row: &RowSeen, reading: &Reading) -> f64 {
        if let Some(logged) = row.logged {
            let sd = self.row_sd.hypot(reading.logged);
            let z = (logged - self.load) / sd;
            let height = (-0.5 * z * z).exp() / (sd * (2.0 * std::f64::consts::PI).sqrt());
            return ((1.0 - reading.misread) * height + reading.misread / LOADS).ln();
        }
        let felt = row.wheels.map(|feel| match feel {
            WheelFeel::SpinFree => 0,
            WheelFeel::TurnWithEffort => 1,
            WheelFeel::Locked => 2,
        });
        let seen = row.print.map(|print| match print {
            PrintDepth::None => 0,
            PrintDepth::Light => 1,
            PrintDepth::Deep => 2,
        });
        let says = |answer: Option<u8>, truth: u8| match answer {
            None => 1.0,
            Some(answer) if answer == truth => 1.0 - reading.misread * 2.0 / 3.0,
            Some(_) => reading.misread / 3.0,
        };
        let wall = |truth: u8| match (row.shiny, truth) {
            (None, _) => 1.0,
            (Some(true), 2) => SHINES.1,
            (Some(false), 2) => 1.0 - SHINES.1,
            (Some(true), _) => SHINES.0,
            (Some(false), _) => 1.0 - SHINES.0,
        };
        let both = |(truth, chance): (u8, f64)| {
            chance * says(felt, truth) * says(seen, truth) * wall(truth)
        };
        (0_u8..).zip(self.carries).map(both).sum::<f64>().max(1e-300).ln()
    }
}
