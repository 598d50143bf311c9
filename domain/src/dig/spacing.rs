//! Seed spacing: how even, how many seeds an acre, and what the meter missed or doubled.
//!
//! Classes follow the percent-of-spacings form: with the wanted spacing x, a spacing up to 0.5 x
//! belongs to a multiple, up to 1.5 x to a single seed, above that to a skip.

use serde::{Deserialize, Serialize};

use super::observation::Observation;
use super::share::Share;
use super::statistics::{Wanted, whole};
use crate::provenance::Coefficients;
use crate::quantity::{ArealNumberDensity, Length, Measured};
use crate::stand::spacing_quality;
use crate::stats::{mean, sd};

const INCH: f64 = 0.0254;

/// What the spacings say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SpacingStatistics {
    /// Spacings that were measured.
    pub spacings: u32,
    /// Their mean.
    pub mean: Length,
    /// Standard deviation of all spacings; none with one.
    pub sd: Option<Length>,
    /// Seeds per area that the mean spacing amounts to; none when it is 0.
    pub population: Option<ArealNumberDensity>,
    /// What can be said only against a wanted spacing.
    pub against: Option<SpacingAgainst>,
    /// Whether the spread calls for a look at the meters.
    pub meter_check: bool,
}

/// Spacing against the wanted spacing, percent-of-spacings form.
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
    /// Mean of the spacings classed as singles.
    pub singles_mean: Option<Length>,
    /// Standard deviation of the spacings classed as singles, n - 1.
    pub singles_sd: Option<Length>,
    /// Precision: that standard deviation over the WANTED spacing.
    pub precision_over_wanted: Option<f64>,
    /// Precision: that standard deviation over the mean of the singles.
    pub precision_over_mean: Option<f64>,
    /// Population less the wanted one, as a share of the wanted one.
    pub population_off: Option<f64>,
}

pub(super) fn spacing_statistics(
    dig: &Observation,
    wanted: &Wanted,
    k: &Coefficients,
) -> Option<SpacingStatistics> {
    let mut all: Vec<f64> =
        dig.rows().iter().flat_map(|r| r.spacings.iter().map(|s| s.si())).collect();
    all.sort_by(f64::total_cmp);
    let lengths: Vec<Length> = all.iter().copied().map(Length::from_si).collect();
    let centre = mean(&all)?;
    let spread = sd(&all);
    let limit = k.spacing_sd_limit.value * INCH;
    let area = centre * wanted.row_width.si();
    Some(SpacingStatistics {
        spacings: whole(all.len()),
        mean: Length::from_si(centre),
        sd: spread.map(Length::from_si),
        population: (area > 1e-6).then(|| ArealNumberDensity::from_si(1.0 / area)),
        against: wanted.spacing.and_then(|x| against(&lengths, x)),
        meter_check: all.len() >= 10 && spread.is_some_and(|s| s > limit),
    })
}

fn against(all: &[Length], wanted: Length) -> Option<SpacingAgainst> {
    let found = spacing_quality(all, wanted).ok()?;
    let regions = found.regions;
    let of = whole(all.len());
    let share = |n: u32| Share::of(n, of, f64::from(of));
    let off = wanted.si() / found.mean.si() - 1.0;
    Some(SpacingAgainst {
        wanted,
        multiples: share(regions.multiples)?,
        singles: share(regions.singles)?,
        skips: share(regions.one_skip + regions.two_skips + regions.more_skips)?,
        singles_mean: found.singles_mean,
        singles_sd: found.singles_sd,
        precision_over_wanted: found.precision_over_meant.map(|p| p / 100.0),
        precision_over_mean: found.precision_over_singles_mean.map(|p| p / 100.0),
        population_off: off.is_finite().then_some(off),
    })
}
