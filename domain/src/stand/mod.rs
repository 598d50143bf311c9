//! Degree days, stand counts, emergence, and what planting dates and stands yield.

mod compare;
mod count;
mod counts_wanted;
mod degree_days;
mod delay;
mod emergence;
mod forecast;
mod gaps;
mod heat;
mod observed;
mod population;
mod relative_yield;
mod soybean_stands;
mod spacing_loss;
mod spacing_quality;
mod uneven;

pub use compare::{Compared, Ends, Money, Question, REPLANT_PROBLEMS, StandRange, compare};
pub use count::{
    CountError, Stand, emergence_percent, ring_diameter, stand_by_printed_factor, stand_in_hoop,
    stand_in_row,
};
pub use counts_wanted::{CountMethod, CountsWanted, counts_for_a_tenth, counts_wanted};
pub use degree_days::{Day, LowAboveHigh, degree_day_sum};
pub use delay::{
    Loss, LossRange, LossUnit, SourcedLoss, loss_between, loss_of_delay, loss_per_day,
};
pub use emergence::{Emergence, NoHeat, days_to_emerge, emergence, thermal_time_per_inch};
pub use forecast::{
    COUNT_AFTER, CountWindow, EmergenceState, Forecast, forecast, need_of, usual_days_to_emerge,
};
pub use gaps::{Gaps, gaps};
pub use heat::{DayFrom, Heat, HeatDay, Known, heat, with_normal};
pub use observed::{
    Counted, PercentRange, StandFound, StandObservation, StandSpacing, WHEEL_PLANTS, stand_found,
};
pub use population::{Patch, PlaceStand, Population, StandUnits, population};
pub use relative_yield::{
    OutsideTable, RelativeYield, Replant, ReplantDecision, YieldTable, days_after_april,
    keep_or_replant,
};
pub use soybean_stands::{PUBLISHED as SOYBEAN_STANDS, soybean_stand_yield};
pub use spacing_loss::{SpacingLoss, spacing_loss};
pub(crate) use spacing_quality::is_single;
pub use spacing_quality::{
    Regions, SeedPositions, SpacingError, SpacingQuality, no_pattern, spacing_quality,
};
pub use uneven::{Uneven, UnevenCase, uneven};
