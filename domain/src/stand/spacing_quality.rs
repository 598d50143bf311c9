//! How evenly seed lies along the row.
//!
//! Two conventions are in use, and they give other numbers; both are worked out and named.
//!
//! Percent of spacings: each spacing is put into a region by the spacing that was meant, and an
//! index is the share of the spacings in its regions. A spacing of exactly half is a multiple, one
//! of exactly one and a half is a single. Multiples, quality of feed and miss index add up to 100.
//!
//! Percent of seed positions: a long spacing counts as the positions that stayed empty in it, a
//! short one as a seed too many; see [`SeedPositions`].

use serde::{Deserialize, Serialize};

use crate::provenance::{Input, Mark, Step, Trace, sources};
use crate::quantity::{Length, Measured, System, bounds};
use crate::stats::{mean, sd};

/// How many spacings lie in each region, by the spacing that was meant.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Regions {
    /// Up to 0.5: multiples.
    pub multiples: u32,
    /// Above 0.5 to 1.5: singles.
    pub singles: u32,
    /// Above 1.5 to 2.5: one skip.
    pub one_skip: u32,
    /// Above 2.5 to 3.5: two skips.
    pub two_skips: u32,
    /// Above 3.5.
    pub more_skips: u32,
}

/// The same spacings as positions where a seed was meant to lie.
///
/// Multiples n2' = n1, singles n1' = N - 2 n2', empty positions n0' = n3 + 2 n4 + 3 n5, all of
/// N' = n0' + n1' + n2', with n1 to n5 the counts of the five [`Regions`] and N their sum. From
/// memory: the form of ISO 7256-1 as the literature repeats it, not checked against the standard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct SeedPositions {
    /// Positions with more than one seed.
    pub multiples: u32,
    /// Positions with one seed.
    pub singles: u32,
    /// Positions without a seed.
    pub empty: u32,
}

impl SeedPositions {
    /// From the counts of the regions; `None` when multiples are so many that no count of singles
    /// is left.
    pub fn of(regions: &Regions) -> Option<Self> {
        let Regions { multiples, singles: _, one_skip, two_skips, more_skips } = *regions;
        let singles = total(regions).checked_sub(2 * multiples)?;
        let found = Self { multiples, singles, empty: one_skip + 2 * two_skips + 3 * more_skips };
        (found.all() > 0).then_some(found)
    }

    /// All positions, N'.
    pub const fn all(&self) -> u32 {
        self.multiples + self.singles + self.empty
    }
}

/// The quality of a row of spacings.
#[derive(Debug, Clone, PartialEq)]
pub struct SpacingQuality {
    /// Counts of the regions.
    pub regions: Regions,
    /// The positions of the other convention; `None` when there are too many multiples for it.
    pub positions: Option<SeedPositions>,
    /// Multiples in percent of the spacings.
    pub multiples_percent: f64,
    /// Singles in percent (quality of feed).
    pub quality_of_feed_percent: f64,
    /// Spacings above one and a half in percent.
    pub miss_percent: f64,
    /// Mean of the singles; `None` without singles.
    pub singles_mean: Option<Length>,
    /// Standard deviation of the singles (n - 1); `None` below two.
    pub singles_sd: Option<Length>,
    /// Precision in percent: `singles_sd` over the spacing that was meant.
    pub precision_over_meant: Option<f64>,
    /// Precision in percent: `singles_sd` over the mean of the singles.
    pub precision_over_singles_mean: Option<f64>,
    /// Mean of all spacings.
    pub mean: Length,
    /// Standard deviation of all spacings (n - 1); `None` below two.
    pub sd: Option<Length>,
    /// Coefficient of variation of all spacings in percent.
    pub cv_percent: Option<f64>,
    /// The calculation.
    pub trace: Trace,
}

/// Why spacings say nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum SpacingError {
    /// None were given.
    #[error("give at least one spacing")]
    None,
    /// The spacing that was meant is not above 0.
    #[error("the spacing that was meant must be above 0")]
    NothingMeant,
    /// A spacing is negative or not a number.
    #[error("spacing {position} is negative or not a number")]
    Impossible {
        /// Its place in the list, from 1.
        position: usize,
    },
}

/// Spread of spacings that are evenly scattered over the singles' region: 1 / sqrt(12) of the
/// spacing that was meant. A precision near 29 % means that singles carry no pattern at all.
pub fn no_pattern() -> f64 {
    1.0 / 12.0_f64.sqrt()
}

/// Works out the indices of a row of spacings.
///
/// # Errors
/// Without spacings, with one that cannot be, or without the spacing that was meant.
pub fn spacing_quality(spacings: &[Length], meant: Length) -> Result<SpacingQuality, SpacingError> {
    if spacings.is_empty() {
        return Err(SpacingError::None);
    }
    if meant.si().is_nan() || meant.si() <= 0.0 {
        return Err(SpacingError::NothingMeant);
    }
    let impossible = |s: &Length| s.si() < 0.0 || !s.si().is_finite();
    if let Some(place) = spacings.iter().position(impossible) {
        return Err(SpacingError::Impossible { position: place + 1 });
    }
    let all: Vec<f64> = spacings.iter().map(|s| s.si()).collect();
    Ok(judged(&all, meant))
}

fn judged(all: &[f64], meant: Length) -> SpacingQuality {
    let mut regions = Regions::default();
    let mut singles = Vec::with_capacity(all.len());
    for spacing in all {
        *region_of(&mut regions, spacing / meant.si()) += 1;
        if is_single(spacing / meant.si()) {
            singles.push(*spacing);
        }
    }
    let count = f64::from(total(&regions));
    let percent = |n: u32| 100.0 * f64::from(n) / count;
    let skips = regions.one_skip + regions.two_skips + regions.more_skips;
    let (centre, spread) = (mean(all), sd(all));
    let (singles_mean, singles_sd) = (mean(&singles), sd(&singles));
    let over = |top: Option<f64>, bottom: Option<f64>| match (top, bottom) {
        (Some(t), Some(b)) if b > 0.0 => Some(100.0 * t / b),
        _ => None,
    };
    let precision_over_meant = over(singles_sd, Some(meant.si()));
    SpacingQuality {
        regions,
        positions: SeedPositions::of(&regions),
        multiples_percent: percent(regions.multiples),
        quality_of_feed_percent: percent(regions.singles),
        miss_percent: percent(skips),
        singles_mean: singles_mean.map(Length::from_si),
        singles_sd: singles_sd.map(Length::from_si),
        precision_over_meant,
        precision_over_singles_mean: over(singles_sd, singles_mean),
        mean: Length::from_si(centre.unwrap_or(0.0)),
        sd: spread.map(Length::from_si),
        cv_percent: over(spread, centre),
        trace: trace_of(meant, percent(regions.singles), singles_sd, precision_over_meant),
    }
}

/// Slack so that a boundary in inches is a boundary in metres too.
const SLACK: f64 = 1e-9;

/// Whether a spacing over the one that was meant lies in the region of singles.
pub(crate) fn is_single(ratio: f64) -> bool {
    ratio > 0.5 + SLACK && ratio <= 1.5 + SLACK
}

fn region_of(regions: &mut Regions, ratio: f64) -> &mut u32 {
    if ratio <= 0.5 + SLACK {
        &mut regions.multiples
    } else if is_single(ratio) {
        &mut regions.singles
    } else if ratio <= 2.5 + SLACK {
        &mut regions.one_skip
    } else if ratio <= 3.5 + SLACK {
        &mut regions.two_skips
    } else {
        &mut regions.more_skips
    }
}

const fn total(r: &Regions) -> u32 {
    r.multiples + r.singles + r.one_skip + r.two_skips + r.more_skips
}

fn trace_of(meant: Length, feed: f64, singles_sd: Option<f64>, precision: Option<f64>) -> Trace {
    let inches = |l: Length| bounds::SEED_SPACING.show(l, System::Us).0;
    let mut trace = Trace::default();
    trace.push(Step {
        step: "quality of feed".into(),
        formula: "100 n(0.5 x_ref < x <= 1.5 x_ref) / n".into(),
        inputs: vec![Input::new("x_ref", inches(meant), "[in_i]")],
        value: feed,
        unit: "%".into(),
        low: None,
        high: None,
        source: sources::SPACING_QUALITY.into(),
        mark: Mark::Read,
    });
    if let (Some(sd), Some(precision)) = (singles_sd, precision) {
        trace.push(Step {
            step: "precision over the spacing that was meant".into(),
            formula: "100 S_2 / x_ref".into(),
            inputs: vec![
                Input::new("S_2", inches(Length::from_si(sd)), "[in_i]"),
                Input::new("x_ref", inches(meant), "[in_i]"),
            ],
            value: precision,
            unit: "%".into(),
            low: None,
            high: None,
            source: sources::SPACING_QUALITY.into(),
            mark: Mark::FromMemory,
        });
    }
    trace
}
