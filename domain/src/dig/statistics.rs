//! What the depths of a dig say: mean, spread, share within tolerance, and how sure that is.
//!
//! Rows are the units, not seeds: ten seeds of one row say little about the other rows. So the
//! interval of the mean rests on row means (Student's t with rows - 1 degrees of freedom), and the
//! spread is split into a part between rows and a part within rows (one-way random model), each
//! with its limits.

use serde::{Deserialize, Serialize};

use super::depth_spread::DepthSpread;
use super::observation::Observation;
use super::scatter::scatter;
use super::set_aside::{Measure, SetAside, set_aside};
use super::settled::{Settled, settled};
use super::share::Share;
use super::spacing::SpacingStatistics;
use super::spacing_figures::spacing_statistics;
use crate::conditions::Crop;
use crate::provenance::Coefficients;
use crate::quantity::{Length, Measured};
use crate::stats::{OneWay, Usual, count, mean, sd, t_critical};

const INCH: f64 = 0.0254;

/// What the readings of a dig say in numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Statistics {
    /// Depth, where any was measured.
    pub depth: Option<DepthStatistics>,
    /// Spacing, where any was measured.
    pub spacing: Option<SpacingStatistics>,
}

/// What the depths say.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DepthStatistics {
    /// The depth that was wanted.
    pub target: Length,
    /// How far from it a seed may lie.
    pub tolerance: Length,
    /// Seeds that were measured.
    pub seeds: u32,
    /// Mean of all seeds.
    pub mean: Length,
    /// Standard deviation of all seeds; none with a single seed.
    pub sd: Option<Length>,
    /// Share of seeds within tolerance.
    pub within: Share,
    /// Share of corn seeds above the floor, where the crop is corn.
    pub above_floor: Option<AboveFloor>,
    /// The mean of the rows that speak for the planter.
    pub planter: RowsMean,
    /// Spread between and within those rows.
    pub spread: DepthSpread,
    /// Row by row.
    pub rows: Vec<RowDepth>,
    /// Rows that do not speak for the planter.
    pub set_aside: Vec<SetAside>,
    /// Whether the dig settles where the mean lies.
    pub settled: Settled,
}

/// Corn that lies too shallow to root well.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct AboveFloor {
    /// The least depth.
    pub floor: Length,
    /// Share of seeds shallower than that.
    pub share: Share,
}

/// A mean with rows as units; each row counts once.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RowsMean {
    /// Mean of the row means.
    pub mean: Length,
    /// Low limit of 95 %; none with one row.
    pub low: Option<Length>,
    /// High limit of 95 %; none with one row.
    pub high: Option<Length>,
    /// Rows that it rests on.
    pub rows: u32,
}

/// One row.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RowDepth {
    /// The row.
    pub row: u16,
    /// Seeds measured in it.
    pub seeds: u32,
    /// Their mean.
    pub mean: Length,
    /// Their standard deviation; none with a single seed.
    pub sd: Option<Length>,
    /// Share within tolerance.
    pub within: Share,
    /// Chance that its seeds scatter so much more than those of the other rows without a cause,
    /// held for the number of rows. None where that cannot be told.
    #[serde(default)]
    pub scatter_p: Option<f64>,
}

/// The depths of one row in m, sorted, so that the order of digging cannot matter.
#[derive(Debug, Clone)]
pub(super) struct RowDepths {
    pub row: u16,
    pub behind_tyre: bool,
    pub outer: bool,
    pub depths: Vec<f64>,
}

/// What a dig is measured against.
#[derive(Debug, Clone, Copy)]
pub struct Wanted {
    /// The depth that was wanted.
    pub depth: Length,
    /// How far from it a seed may lie.
    pub tolerance: Length,
    /// The distance from seed to seed that was wanted, where it is known.
    pub spacing: Option<Length>,
    /// Distance between rows.
    pub row_width: Length,
    /// Rows of the planter.
    pub rows: u16,
    /// The crop.
    pub crop: Crop,
}

/// Works out the statistics of a dig.
pub fn statistics(dig: &Observation, wanted: &Wanted, k: &Coefficients) -> Statistics {
    Statistics {
        depth: depth_statistics(dig, wanted, k),
        spacing: spacing_statistics(dig, wanted, k),
    }
}

fn depth_statistics(
    dig: &Observation,
    wanted: &Wanted,
    k: &Coefficients,
) -> Option<DepthStatistics> {
    let rows = dug_rows(dig);
    let usual = Usual { grain: k.ruler_step.value * INCH, between: k.row_spread.value * INCH };
    let measure = Measure { tolerance: wanted.tolerance.si(), usual };
    let aside = set_aside(&rows, measure);
    let speaking: Vec<&RowDepths> =
        rows.iter().filter(|r| aside.iter().all(|a| a.row != r.row)).collect();
    let planter = rows_mean(&speaking, usual.grain)?;
    let all: Vec<f64> = rows.iter().flat_map(|r| r.depths.iter().copied()).collect();
    let seeds = whole(all.len());
    let worth = worth(&rows);
    let inside = |d: &f64| within(*d, wanted);
    let spread = DepthSpread::of(&groups(&speaking));
    Some(DepthStatistics {
        target: wanted.depth,
        tolerance: wanted.tolerance,
        seeds,
        mean: Length::from_si(mean(&all)?),
        sd: sd(&all).map(Length::from_si),
        within: share(&all, inside, worth)?,
        above_floor: above_floor(&all, wanted.crop, worth, k),
        settled: settled(&planter, &speaking, wanted, k),
        planter,
        spread,
        rows: rows_of(&rows, wanted, usual.grain),
        set_aside: aside,
    })
}

fn dug_rows(dig: &Observation) -> Vec<RowDepths> {
    let sorted = |list: &[Length]| {
        let mut depths: Vec<f64> = list.iter().map(|d| d.si()).collect();
        depths.sort_by(f64::total_cmp);
        depths
    };
    dig.rows()
        .iter()
        .filter(|r| !r.seed_depths.is_empty())
        .map(|r| RowDepths {
            row: r.row,
            behind_tyre: r.behind_tyre,
            outer: r.outer,
            depths: sorted(&r.seed_depths),
        })
        .collect()
}

/// The ends of the tolerance belong to it, whatever the last binary digit is.
fn within(depth: f64, wanted: &Wanted) -> bool {
    (depth - wanted.depth.si()).abs() <= wanted.tolerance.si() + 1e-9
}

fn share(depths: &[f64], hit: impl Fn(&f64) -> bool, worth: f64) -> Option<Share> {
    let hits = depths.iter().filter(|d| hit(d)).count();
    Share::of(whole(hits), whole(depths.len()), worth)
}

fn above_floor(depths: &[f64], crop: Crop, worth: f64, k: &Coefficients) -> Option<AboveFloor> {
    if crop != Crop::Corn {
        return None;
    }
    let floor = k.corn_floor.value * INCH;
    let share = share(depths, |d| *d < floor - 1e-9, worth)?;
    Some(AboveFloor { floor: Length::from_si(floor), share })
}

/// Row means that agree to the last digit of the ruler are not known better than the ruler reads.
fn rows_mean(rows: &[&RowDepths], grain: f64) -> Option<RowsMean> {
    let means: Vec<f64> = rows.iter().filter_map(|r| mean(&r.depths)).collect();
    let centre = mean(&means)?;
    let k = count(means.len());
    let seeds: f64 = rows.iter().map(|r| count(r.depths.len())).sum();
    let rounding = grain / 12.0_f64.sqrt() / (seeds / k).sqrt();
    let half =
        sd(&means).zip(t_critical(0.05, k - 1.0)).map(|(s, t)| t * s.max(rounding) / k.sqrt());
    Some(RowsMean {
        mean: Length::from_si(centre),
        low: half.map(|h| Length::from_si(centre - h)),
        high: half.map(|h| Length::from_si(centre + h)),
        rows: whole(means.len()),
    })
}

fn groups(rows: &[&RowDepths]) -> Vec<Vec<f64>> {
    rows.iter().map(|r| r.depths.clone()).collect()
}

/// Seeds of one row resemble each other: n seeds in k rows are worth n / (1 + (n0 - 1) icc).
fn worth(rows: &[RowDepths]) -> f64 {
    let Some(table) = OneWay::of(&groups(&rows.iter().collect::<Vec<_>>())) else { return 1.0 };
    let alike = table.components().map_or(0.0, |parts| parts.intraclass());
    table.readings / (1.0 + (table.n0 - 1.0).max(0.0) * alike)
}

fn rows_of(rows: &[RowDepths], wanted: &Wanted, grain: f64) -> Vec<RowDepth> {
    let depths: Vec<&[f64]> = rows.iter().map(|r| r.depths.as_slice()).collect();
    let scatter = scatter(&depths, grain);
    rows.iter().zip(scatter).filter_map(|(r, p)| row_depth(r, wanted, p)).collect()
}

fn row_depth(row: &RowDepths, wanted: &Wanted, scatter_p: Option<f64>) -> Option<RowDepth> {
    let inside = |d: &f64| within(*d, wanted);
    Some(RowDepth {
        row: row.row,
        seeds: whole(row.depths.len()),
        mean: Length::from_si(mean(&row.depths)?),
        sd: sd(&row.depths).map(Length::from_si),
        within: share(&row.depths, inside, count(row.depths.len()))?,
        scatter_p,
    })
}

pub(super) fn whole(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}
