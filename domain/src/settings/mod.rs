//! The engine: one file a setting.
//!
//! The first rule: no more down force than needed. The second: find the cause before touching
//! force. The third: one change, then dig again.

mod box_states;
mod capacity;
mod caution;
mod choose;
mod closing;
mod coulter;
mod depth;
mod down_force;
mod dug_row;
pub mod forces;
mod goals;
mod measure_next;
mod need;
mod recommend;
mod remedies;
mod row;
mod row_cleaner;
pub(crate) mod say;
mod seeding;
mod spacing;
mod speed;
mod steps;
mod window;

pub(crate) use dug_row::{AsSet, DugRow};

pub use box_states::{BoxState, Fill};
pub use capacity::{
    AreaRate, CapacityError, FieldCapacity, Power, days_to_finish, drawbar_power, field_capacity,
    needed_capacity, pto_power,
};
pub use caution::{Caution, cautions};
pub use closing::{ClosingAdvice, ClosingSpring, closing};
pub use coulter::{CoulterAdvice, CoulterUse, coulter};
pub use depth::{DepthAdvice, depth};
pub use down_force::{DownForceAdvice, Reach};
pub use goals::Goals;
pub use measure_next::NextMeasurement;
pub use recommend::{ENGINE, Inputs, Recommendation, recommend};
pub use remedies::Remedy;
pub use row_cleaner::{CleanerUse, RowCleanerAdvice, row_cleaner};
pub use seeding::{SeedingAdvice, SeedingGoal, seeding};
pub use spacing::{
    SeedingError, population, row_length_of_acre, seed_weight, seeding_rate, seeds_in, spacing,
};
pub use speed::SpeedAdvice;
pub use window::{LoadWindow, load_window};
