//! What one dig says about the resistance factor.
//!
//! A factor gives a mean load; each row stands on soil of its own, a little harder or softer, and
//! each spot of it again: a row is a unit, and its seeds and wheels share its soil. Its wheels carry
//! nothing, something, or more than the soil bears, and somebody feels that and sees the print, now
//! and then wrongly. Where the unit rides out, the furrow ends where the soil carries it, and the
//! depth of the seed measures the factor. A dig as a whole may be absurd: then it says nothing, and
//! that keeps one odd dig from moving much.

use serde::{Deserialize, Serialize};

use super::balance::DugBalance;
use super::depth_reached::DepthsFound;
use super::event::RowSeen;
use super::felt::{Loads, felt, flat, logged};
use super::grid::LogDensity;
use super::mesh::{MESH, OnMesh, Soil, WITHIN, filled, on_grid};
use crate::provenance::Coefficients;
use crate::stats::Range;

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

/// The log likelihood of the log factor from one dig, up to a constant.
pub fn log_likelihood(balance: &DugBalance, rows: &[RowSeen], reading: &Reading) -> LogDensity {
    let soils = Soils::of(reading);
    let depths = DepthsFound::of(balance, rows, reading, soils.spots);
    let loads = Loads::of(balance, reading);
    let seen: Vec<Seen> =
        rows.iter().map(|row| Seen::of(balance, &loads, row, reading, &soils)).collect();
    let sane = (1.0 - reading.absurd).ln();
    let mut ways: Vec<Vec<f64>> = depths
        .ways()
        .into_iter()
        .map(|way| {
            let mut all = vec![way.weight + sane; WITHIN];
            for (row, seeds) in seen.iter().zip(&way.rows) {
                for (sum, one) in all.iter_mut().zip(row.with(seeds.as_ref(), &soils)) {
                    *sum += one;
                }
            }
            all
        })
        .collect();
    let nothing = rows.iter().map(flat).sum::<f64>() + depths.flat();
    let absurd = reading.absurd.max(1e-12).ln() + nothing;
    let points = ways.first().map_or(0, Vec::len);
    ways.push(vec![absurd; points]);
    let at = |i: usize| {
        let each: Vec<f64> = ways.iter().filter_map(|way| way.get(i).copied()).collect();
        log_sum(&each)
    };
    let sums: Vec<f64> = (0..points).map(at).collect();
    LogDensity::from_heights(filled(&sums).into_iter()).levelled()
}

/// How soil lies about what is usual in the field: rows, rows behind a tyre, spots of a row.
struct Soils {
    row: Soil,
    behind_tyre: Soil,
    spot: Soil,
    /// Standard deviation from spot to spot of a row.
    spots: f64,
}

impl Soils {
    /// What all spots of a row share is what limits the worth of its seeds: with a share `r` of the
    /// variance, any number of them is worth 1 / r.
    fn of(reading: &Reading) -> Self {
        let shared = (1.0 / reading.seeds_worth.max(1.0)).min(0.99);
        let (rows, spots) = (reading.spots * shared.sqrt(), reading.spots * (1.0 - shared).sqrt());
        Self {
            row: Soil::new(1.0, rows),
            behind_tyre: Soil::new(reading.tracks.0, rows.hypot(reading.tracks.1)),
            spot: Soil::new(1.0, spots),
            spots,
        }
    }

    /// What a log says of the soil of a row, said of the field: it averages over the spots, and soil
    /// behind a tyre is harder.
    fn of_field(&self, behind_tyre: bool, chances: &[f64]) -> Vec<f64> {
        if behind_tyre {
            self.behind_tyre.mean_on_grid(chances)
        } else {
            on_grid(chances).collect()
        }
    }
}

/// What was seen on a row but the depth of its seeds, over the factor of the row's soil.
struct Seen {
    behind_tyre: bool,
    /// What wheels, print and wall say.
    felt: OnMesh,
    /// What a log says. It says it of the row as the planter knows it, soil and all.
    logged: Option<Vec<f64>>,
    /// All of it where no seeds speak.
    alone: Vec<f64>,
}

impl Seen {
    fn of(
        balance: &DugBalance,
        loads: &Loads,
        row: &RowSeen,
        reading: &Reading,
        soils: &Soils,
    ) -> Self {
        let log = |load: f64| soils.of_field(row.behind_tyre, &logged(balance, load, reading));
        // A logged load says more than a turn by hand.
        let felt = match row.logged {
            Some(_) => vec![1.0; MESH.len()],
            None => soils.spot.mean(&felt(loads, row, reading)),
        };
        let mut seen = Self {
            behind_tyre: row.behind_tyre,
            logged: row.logged.map(log),
            alone: Vec::new(),
            felt,
        };
        seen.alone = seen.over_soil(&seen.felt, soils);
        seen
    }

    /// The log chances with what the seeds say, at every other point of the grid.
    fn with(&self, seeds: Option<&OnMesh>, soils: &Soils) -> Vec<f64> {
        let Some(seeds) = seeds else { return self.alone.clone() };
        let both: OnMesh = self.felt.iter().zip(seeds).map(|(felt, seen)| felt * seen).collect();
        self.over_soil(&both, soils)
    }

    fn over_soil(&self, chances: &[f64], soils: &Soils) -> Vec<f64> {
        let soil = if self.behind_tyre { &soils.behind_tyre } else { &soils.row };
        let mean = soil.mean_on_grid(chances);
        let ln = |chance: f64| chance.max(1e-300).ln();
        let log = self.logged.iter().flatten();
        let log = log.map(|chance| ln(*chance)).chain(std::iter::repeat(0.0));
        mean.into_iter().map(ln).zip(log).map(|(seen, logged)| seen + logged).collect()
    }
}

/// The logarithm of a sum of numbers that are given by their logarithms.
pub(super) fn log_sum(all: &[f64]) -> f64 {
    let top = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if top == f64::NEG_INFINITY {
        return top;
    }
    top + all.iter().map(|one| (one - top).exp()).sum::<f64>().ln()
}
