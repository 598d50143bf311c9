//! Seed spacing: how even, how many seeds an acre, and what the meter missed or doubled.
//!
//! Rows are the units here too: a meter is a matter of its row. Limits rest on what rows differ by
//! (see `spacing_figures`); with one row they rest on its spacings and hold for that row only.

use serde::{Deserialize, Serialize};

use super::limits::Limits;
use super::share::Share;
use crate::quantity::{ArealNumberDensity, Length};
use crate::stand::{Regions, SeedPositions};

/// What the spacings say.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SpacingStatistics {
    /// Spacings that were measured.
    pub spacings: u32,
    /// Their mean.
    pub mean: Length,
    /// Limits of the mean.
    #[serde(default)]
    pub mean_limits: Option<Limits<Length>>,
    /// Standard deviation of all spacings; none with one.
    pub sd: Option<Length>,
    /// Limits of the standard deviation.
    #[serde(default)]
    pub sd_limits: Option<Limits<Length>>,
    /// Standard deviation over mean.
    #[serde(default)]
    pub cv: Option<f64>,
    /// Limits of that.
    #[serde(default)]
    pub cv_limits: Option<Limits<f64>>,
    /// Seeds per area that the mean spacing amounts to; none when it is 0.
    pub population: Option<ArealNumberDensity>,
    /// Limits of the population.
    #[serde(default)]
    pub population_limits: Option<Limits<ArealNumberDensity>>,
    /// What can be said only against a wanted spacing.
    pub against: Option<SpacingAgainst>,
    /// Whether the spread calls for a look at the meters.
    pub meter_check: bool,
    /// What all limits speak for; none in judgements from before there were limits.
    #[serde(default)]
    pub limits_of: Option<LimitsOf>,
    /// Row by row.
    #[serde(default)]
    pub rows: Vec<RowSpacing>,
}

/// What the limits speak for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitsOf {
    /// The planter: two rows or more were measured, and rows are the units.
    Planter,
    /// One row: spacings are the units, and the other rows may differ.
    OneRow,
}

/// Spacings against the wanted spacing x.
///
/// The shares are of the spacings: up to 0.5 x multiples, above that and up to 1.5 x singles
/// (quality of feed), above that skips (miss index). `positions` holds the counts of the other
/// convention, percent of seed positions.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SpacingAgainst {
    /// The wanted spacing.
    pub wanted: Length,
    /// Share of spacings up to 0.5 of the wanted one.
    pub multiples: Share,
    /// Share above 0.5 and up to 1.5 of the wanted one (quality of feed).
    pub singles: Share,
    /// Share above 1.5 of the wanted one.
    pub skips: Share,
    /// Counts of the five regions, with ends at 0.5, 1.5, 2.5 and 3.5 of the wanted spacing.
    #[serde(default)]
    pub regions: Option<Regions>,
    /// Counts of seed positions, the other convention.
    #[serde(default)]
    pub positions: Option<SeedPositions>,
    /// Mean of the spacings classed as singles.
    pub singles_mean: Option<Length>,
    /// Standard deviation of the spacings classed as singles, n - 1.
    pub singles_sd: Option<Length>,
    /// Precision: that standard deviation over the WANTED spacing.
    pub precision_over_wanted: Option<f64>,
    /// Limits of it.
    #[serde(default)]
    pub precision_over_wanted_limits: Option<Limits<f64>>,
    /// Precision: that standard deviation over the mean of the singles.
    pub precision_over_mean: Option<f64>,
    /// Limits of it.
    #[serde(default)]
    pub precision_over_mean_limits: Option<Limits<f64>>,
    /// Population less the wanted one, as a share of the wanted one.
    pub population_off: Option<f64>,
    /// Limits of it.
    #[serde(default)]
    pub population_off_limits: Option<Limits<f64>>,
}

/// The spacings of one row, with limits that hold for that row.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RowSpacing {
    /// The row.
    pub row: u16,
    /// Spacings measured in it.
    pub spacings: u32,
    /// Their mean.
    pub mean: Length,
    /// Limits of the mean.
    pub mean_limits: Option<Limits<Length>>,
    /// Their standard deviation; none with one.
    pub sd: Option<Length>,
    /// Limits of the standard deviation.
    pub sd_limits: Option<Limits<Length>>,
    /// The indices of the row, where it has ten spacings and a wanted spacing is known.
    pub against: Option<SpacingAgainst>,
    /// Whether the spread of this row calls for a look at its meter.
    pub meter_check: bool,
    /// Chance that multiples and skips are so much more, or fewer, than in the other rows without
    /// a cause; held for the number of rows. None without indices or without another row.
    pub faults_p: Option<f64>,
}
