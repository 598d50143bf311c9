//! What is published of thin stands of soybean. It is incomplete: no whole table by date and stand
//! is to be had.

use crate::provenance::{Mark, Reason, sources};
use crate::quantity::{ArealNumberDensity, Measured, bounds, unit};

/// What thin stands of soybean yield, as far as it is published.
pub const PUBLISHED: [Reason; 6] = [
    Reason::fixed(
        "a stand cut by less than half is kept: replant only where it is cut by half or more (a rule of thumb)",
        Mark::Read,
        sources::VIRGINIA_SOY_STAND,
    ),
    Reason::fixed(
        "50,000 seeds an acre gave 91 and 90 % of what 100,000 and 150,000 gave (Illinois)",
        Mark::Read,
        sources::ILLINOIS_THIN_SOY,
    ),
    Reason::fixed(
        "50,000 (south) to 75,000 (north) plants an acre can still yield fully where nothing else goes wrong",
        Mark::Read,
        sources::MISSOURI_THIN_SOY,
    ),
    Reason::fixed(
        "80,000 seeds an acre lost more than 4 bu/ac against 160,000 at 9 of 39 sites, more than 7 at 3 (Michigan, 2015 to 2018)",
        Mark::Read,
        sources::MICHIGAN_THIN_SOY,
    ),
    Reason::fixed(
        "100,000 plants an acre at harvest are enough in an even stand (Midwest)",
        Mark::Read,
        sources::SOY_CHECKOFF_STAND,
    ),
    Reason::fixed(
        "up to half a bushel an acre is lost for each day after the end of April (Ohio)",
        Mark::Read,
        sources::OHIO_LOSS,
    ),
];

/// Percent of full yield of a stand, low and high, as far as the sources reach.
///
/// From 100,000 plants an acre on: full. From 50,000 to 100,000: 90 % to full, since sources differ.
/// Below 50,000 nothing is published: `None`.
pub fn soybean_stand_yield(stand: ArealNumberDensity) -> Option<(f64, f64)> {
    let an_acre = unit(bounds::SEED_POPULATION.us).map_or_else(|| stand.si(), |u| u.read(stand));
    if an_acre >= 100_000.0 - 0.5 {
        Some((100.0, 100.0))
    } else if an_acre >= 50_000.0 - 0.5 {
        Some((90.0, 100.0))
    } else {
        None
    }
}
