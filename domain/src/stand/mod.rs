//! Degree days, stand counts, emergence, and what planting dates and stands yield.

mod count;
mod degree_days;
mod delay;
mod emergence;
mod relative_yield;
mod spacing_loss;
mod spacing_quality;

pub use count::{
    CountError, Stand, emergence_percent, ring_diameter, stand_by_printed_factor, stand_in_hoop,
    stand_in_row,
};
pub use degree_days::{Day, LowAboveHigh, degree_day_sum};
pub use delay::{Loss, LossRange, LossUnit, SourcedLoss, loss_of_delay, loss_per_day};
pub use emergence::{Emergence, NoHeat, days_to_emerge, emergence, thermal_time_per_inch};
pub use relative_yield::{
    OutsideTable, RelativeYield, Replant, ReplantDecision, YieldTable, days_after_april,
    keep_or_replant,
};
pub use spacing_loss::{SpacingLoss, spacing_loss};
pub(crate) use spacing_quality::is_single;
pub use spacing_quality::{
    Regions, SeedPositions, SpacingError, SpacingQuality, no_pattern, spacing_quality,
};
