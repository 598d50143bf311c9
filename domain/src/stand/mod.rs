//! Degree days, stand counts, emergence.

mod count;
mod degree_days;
mod emergence;
mod spacing_quality;

pub use count::{
    CountError, Stand, emergence_percent, ring_diameter, stand_by_printed_factor, stand_in_hoop,
    stand_in_row,
};
pub use degree_days::{Day, LowAboveHigh, degree_day_sum};
pub use emergence::{Emergence, NoHeat, days_to_emerge, emergence, thermal_time_per_inch};
pub use spacing_quality::{Regions, SpacingError, SpacingQuality, no_pattern, spacing_quality};
