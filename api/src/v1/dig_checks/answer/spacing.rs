//! What the spacings say, in the caller's units. Rows are the units here too.

use domain::dig::{SpacingAgainst, SpacingStatistics};
use domain::stand::{Regions, SeedPositions};
use serde::Serialize;
use utoipa::ToSchema;

use super::limits::{LimitsOut, NumberLimitsOut};
use super::rows::RowSpacingOut;
use super::statistics::ShareOut;
use crate::http::quantity::Quantity;
use crate::v1::mirror::mirror;
use crate::v1::recommendations::show::{Show, share};

mirror! {
    /// What limits of spacings speak for. `planter`: two rows or more were measured, and rows are
    /// the units. `one_row`: a single row was measured, its spacings are the units, and the other
    /// rows may differ.
    SpacingLimitsOf = domain::dig::LimitsOf { Planter OneRow }
}

/// What the spacings of a dig say, with 95 % limits.
///
/// The limits of mean and population are Student's t on what each row adds to the mean. The limits
/// of spread, variation and precision come from leaving out one row at a time (jackknife of the
/// logarithm): skips make spacings anything but normal, and limits from chi-square would promise
/// far too much. Limits that are more than 400-fold apart say nothing and are absent.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSpacing)]
pub struct SpacingOut {
    /// Spacings that were measured.
    #[schema(minimum = 1, example = 20)]
    pub spacings: u32,
    /// What the limits speak for; absent in dig checks of an older engine, which have no limits.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub limits_of: Option<SpacingLimitsOf>,
    /// Mean of all spacings.
    pub mean: Quantity,
    /// Limits of the mean; absent with one spacing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mean_limits: Option<LimitsOut>,
    /// Standard deviation of all spacings; absent with one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// Limits of the standard deviation.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd_limits: Option<LimitsOut>,
    /// Coefficient of variation: standard deviation over mean.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, example = 0.22)]
    pub cv: Option<f64>,
    /// Limits of the coefficient of variation.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cv_limits: Option<NumberLimitsOut>,
    /// Seeds per area that the mean spacing amounts to; absent when it is 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub population: Option<Quantity>,
    /// Limits of the population; absent when the low limit of the mean spacing is 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub population_limits: Option<LimitsOut>,
    /// What can be said only against a wanted spacing; absent when no rate was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub against: Option<SpacingAgainstOut>,
    /// Whether the spread of all spacings calls for a look at the meters.
    pub meter_check: bool,
    /// Row by row: a meter is a matter of its row. Empty in dig checks of an older engine.
    #[schema(max_items = 64)]
    pub rows: Vec<RowSpacingOut>,
}

impl SpacingOut {
    pub(super) fn of(it: SpacingStatistics, show: Show) -> Self {
        let SpacingStatistics {
            spacings,
            mean,
            mean_limits,
            sd,
            sd_limits,
            cv,
            cv_limits,
            population,
            population_limits,
            against,
            meter_check,
            limits_of,
            rows,
        } = it;
        let of_spacing = |it| LimitsOut::of_spacing(it, show);
        Self {
            spacings,
            limits_of: limits_of.map(Into::into),
            mean: show.spacing(mean),
            mean_limits: mean_limits.map(of_spacing),
            sd: sd.map(|it| show.spacing(it)),
            sd_limits: sd_limits.map(of_spacing),
            cv: cv.map(share),
            cv_limits: cv_limits.map(NumberLimitsOut::of),
            population: population.map(|it| show.population(it)),
            population_limits: population_limits.map(|it| LimitsOut::of_population(it, show)),
            against: against.as_ref().map(|it| SpacingAgainstOut::of(it, show)),
            meter_check,
            rows: rows.iter().map(|it| RowSpacingOut::of(it, show)).collect(),
        }
    }
}

/// Spacings against the wanted spacing x.
///
/// Convention of `multiples`, `singles` and `skips`: percent of spacings, as Iowa State University
/// Extension gives it after Kachman and Smith 1995, and Bracy and Parish after ISO 7256-1. They are
/// shares from 0 to 1 that add up to 1. A spacing of exactly 0.5 x is a multiple, one of exactly
/// 1.5 x a single. `positions` counts the same spacings by the other convention, percent of seed
/// positions, which gives other numbers: never compare across the two.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSpacingAgainst)]
pub struct SpacingAgainstOut {
    /// The wanted spacing x.
    pub wanted: Quantity,
    /// Multiples index: share of spacings up to 0.5 x.
    pub multiples: ShareOut,
    /// Quality of feed index: share above 0.5 x and up to 1.5 x.
    pub singles: ShareOut,
    /// Miss index: share above 1.5 x.
    pub skips: ShareOut,
    /// How many spacings lie in each region; absent in dig checks of an older engine.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub regions: Option<SpacingRegionsOut>,
    /// The other convention; absent when there are too many multiples for it, and in dig checks of
    /// an older engine.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub positions: Option<SeedPositionsOut>,
    /// Mean of the spacings classed as singles.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub singles_mean: Option<Quantity>,
    /// Standard deviation of the spacings classed as singles, n - 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub singles_sd: Option<Quantity>,
    /// Precision C: that standard deviation over the wanted spacing. Near 0.29 the singles carry
    /// no pattern at all.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, example = 0.2)]
    pub precision_over_wanted: Option<f64>,
    /// Limits of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub precision_over_wanted_limits: Option<NumberLimitsOut>,
    /// Precision as a coefficient of variation: that standard deviation over the mean of the
    /// singles, as some papers give it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, example = 0.21)]
    pub precision_over_mean: Option<f64>,
    /// Limits of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub precision_over_mean_limits: Option<NumberLimitsOut>,
    /// Population less the wanted one, as a share of the wanted one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = -0.03)]
    pub population_off: Option<f64>,
    /// Limits of it: a difference is real when both have its sign.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub population_off_limits: Option<NumberLimitsOut>,
}

impl SpacingAgainstOut {
    pub(super) fn of(it: &SpacingAgainst, show: Show) -> Self {
        let SpacingAgainst {
            wanted,
            multiples,
            singles,
            skips,
            regions,
            positions,
            singles_mean,
            singles_sd,
            precision_over_wanted,
            precision_over_wanted_limits,
            precision_over_mean,
            precision_over_mean_limits,
            population_off,
            population_off_limits,
        } = *it;
        Self {
            wanted: show.spacing(wanted),
            multiples: ShareOut::of(multiples),
            singles: ShareOut::of(singles),
            skips: ShareOut::of(skips),
            regions: regions.map(SpacingRegionsOut::of),
            positions: positions.map(SeedPositionsOut::of),
            singles_mean: singles_mean.map(|it| show.spacing(it)),
            singles_sd: singles_sd.map(|it| show.spacing(it)),
            precision_over_wanted: precision_over_wanted.map(share),
            precision_over_wanted_limits: precision_over_wanted_limits.map(NumberLimitsOut::of),
            precision_over_mean: precision_over_mean.map(share),
            precision_over_mean_limits: precision_over_mean_limits.map(NumberLimitsOut::of),
            population_off: population_off.map(share),
            population_off_limits: population_off_limits.map(NumberLimitsOut::of),
        }
    }
}

/// Spacings counted by region, x being the wanted spacing.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSpacingRegions)]
pub struct SpacingRegionsOut {
    /// Region I, up to 0.5 x: multiples.
    #[schema(example = 1)]
    pub multiples: u32,
    /// Region II, above 0.5 x and up to 1.5 x: singles.
    #[schema(example = 17)]
    pub singles: u32,
    /// Region III, above 1.5 x and up to 2.5 x: one skip.
    #[schema(example = 2)]
    pub one_skip: u32,
    /// Region IV, above 2.5 x and up to 3.5 x: two skips.
    #[schema(example = 0)]
    pub two_skips: u32,
    /// Region V, above 3.5 x.
    #[schema(example = 0)]
    pub more_skips: u32,
}

impl SpacingRegionsOut {
    fn of(it: Regions) -> Self {
        let Regions { multiples, singles, one_skip, two_skips, more_skips } = it;
        Self { multiples, singles, one_skip, two_skips, more_skips }
    }
}

/// The same spacings as positions where a seed was meant to lie.
///
/// With the counts n1 to n5 of the five regions and N their sum: multiples n1, singles N - 2 n1,
/// empty n3 + 2 n4 + 3 n5. The form of ISO 7256-1 as the literature repeats it; it was not checked
/// against the text of the standard.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSeedPositions)]
pub struct SeedPositionsOut {
    /// Positions with more than one seed.
    #[schema(example = 1)]
    pub multiples: u32,
    /// Positions with one seed.
    #[schema(example = 18)]
    pub singles: u32,
    /// Positions without a seed.
    #[schema(example = 2)]
    pub empty: u32,
    /// All positions.
    #[schema(minimum = 1, example = 21)]
    pub of: u32,
    /// Multiples as a share of all positions.
    #[schema(minimum = 0, maximum = 1, example = 0.05)]
    pub multiples_share: f64,
    /// Singles as a share of all positions.
    #[schema(minimum = 0, maximum = 1, example = 0.86)]
    pub singles_share: f64,
    /// Empty positions as a share of all positions.
    #[schema(minimum = 0, maximum = 1, example = 0.1)]
    pub empty_share: f64,
}

impl SeedPositionsOut {
    fn of(it: SeedPositions) -> Self {
        let SeedPositions { multiples, singles, empty } = it;
        let of = it.all();
        let of_all = |n: u32| share(f64::from(n) / f64::from(of.max(1)));
        Self {
            multiples,
            singles,
            empty,
            of,
            multiples_share: of_all(multiples),
            singles_share: of_all(singles),
            empty_share: of_all(empty),
        }
    }
}
