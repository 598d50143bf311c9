//! What the spacings say, in the caller's units.

use domain::dig::{SpacingAgainst, SpacingStatistics};
use serde::Serialize;
use utoipa::ToSchema;

use super::statistics::ShareOut;
use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};

/// What the spacings of a dig say.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSpacing)]
pub struct SpacingOut {
    /// Spacings that were measured.
    #[schema(minimum = 1, example = 20)]
    pub spacings: u32,
    /// Their mean.
    pub mean: Quantity,
    /// Standard deviation of all spacings; absent with one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// Seeds per area that the mean spacing amounts to; absent when it is 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub population: Option<Quantity>,
    /// What can be said only against a wanted spacing; absent when no rate was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub against: Option<SpacingAgainstOut>,
    /// Whether the spread calls for a look at the meters.
    pub meter_check: bool,
}

impl SpacingOut {
    pub(super) fn of(it: SpacingStatistics, show: Show) -> Self {
        let SpacingStatistics { spacings, mean, sd, population, against, meter_check } = it;
        Self {
            spacings,
            mean: show.spacing(mean),
            sd: sd.map(|it| show.spacing(it)),
            population: population.map(|it| show.population(it)),
            against: against.map(|it| SpacingAgainstOut::of(it, show)),
            meter_check,
        }
    }
}

/// Spacings against the wanted one, as shares of the spacings.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSpacingAgainst)]
pub struct SpacingAgainstOut {
    /// The wanted spacing.
    pub wanted: Quantity,
    /// Share up to 0.5 of the wanted one.
    pub multiples: ShareOut,
    /// Share above 0.5 and up to 1.5 of the wanted one.
    pub singles: ShareOut,
    /// Share above 1.5 of the wanted one.
    pub skips: ShareOut,
    /// Mean of the spacings classed as singles.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub singles_mean: Option<Quantity>,
    /// Standard deviation of the spacings classed as singles.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub singles_sd: Option<Quantity>,
    /// That standard deviation over the wanted spacing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.2)]
    pub precision_over_wanted: Option<f64>,
    /// That standard deviation over the mean of the singles.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.21)]
    pub precision_over_mean: Option<f64>,
    /// Population less the wanted one, as a share of the wanted one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = -0.03)]
    pub population_off: Option<f64>,
}

impl SpacingAgainstOut {
    fn of(it: SpacingAgainst, show: Show) -> Self {
        let SpacingAgainst {
            wanted,
            multiples,
            singles,
            skips,
            singles_mean,
            singles_sd,
            precision_over_wanted,
            precision_over_mean,
            population_off,
        } = it;
        Self {
            wanted: show.spacing(wanted),
            multiples: ShareOut::of(multiples),
            singles: ShareOut::of(singles),
            skips: ShareOut::of(skips),
            singles_mean: singles_mean.map(|it| show.spacing(it)),
            singles_sd: singles_sd.map(|it| show.spacing(it)),
            precision_over_wanted: precision_over_wanted.map(share),
            precision_over_mean: precision_over_mean.map(share),
            population_off: population_off.map(share),
        }
    }
}
