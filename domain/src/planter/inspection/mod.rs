//! The planter in the shed: what to look at, front to back, what counts as worn, how fast it wears,
//! and when it will be worn out.

mod area_left;
mod forecast;
mod item;
mod judge;
mod limit;
mod needs;
mod owner;
mod parts;
mod plan;
mod published;
mod status;
mod table;
mod wear_rate;

pub use area_left::{AreaLeft, area_left};
pub use forecast::{Outlook, RateFrom, RowForecast, RowHistory, Until, forecast, worst};
pub use item::{Action, Item, ItemCode, Measure};
pub use judge::{Judged, judge, worse};
pub use limit::{Direction, Limit, LimitFrom, direction, limit_in_force, new_size};
pub use needs::Needs;
pub use owner::{OwnerLimits, OwnerPart};
pub use parts::{Part, parts};
pub use plan::SeasonPlan;
pub use published::{BladeClass, Published, other_sources, published};
pub use status::Status;
pub use table::ITEMS;
pub use wear_rate::{NoRate, Rate, Reading, may_differ, wear_rate};
