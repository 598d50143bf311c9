//! The engine: one file a setting.
//!
//! The first rule: no more down force than needed. The second: find the cause before touching
//! force. The third: one change, then dig again.

mod attachments;
mod box_states;
mod capacity;
mod caution;
mod choose;
mod closing;
mod coulter;
mod cover;
mod depth;
mod down_force;
mod draft;
mod dug_row;
mod figures;
mod force_ranges;
pub mod forces;
mod frame;
mod goals;
mod haul;
mod hopper;
mod keep_in_mind;
mod measure_next;
mod need;
mod old_rows;
mod recommend;
mod remedies;
mod row;
mod row_cleaner;
pub(crate) mod say;
mod seed_order;
mod seeding;
#[cfg(test)]
mod simulation;
mod soil_state;
mod source_check;
mod spacing;
mod speed;
mod steps;
mod taught_row;
mod wall;
mod window;
mod work;

pub(crate) use dug_row::{AsSet, DugRow};

pub use box_states::{BoxState, Fill};
pub use capacity::{
    AreaRate, CapacityError, FieldCapacity, Power, days_to_finish, drawbar_power, field_capacity,
    needed_capacity, pto_power,
};
pub use caution::{Caution, Handling, cautions};
pub use closing::{
    Ask, AtHand, ClosingAdvice, ClosingSpring, ClosingWheels, Criterion, Grade, Pass, RankedPair,
    closing, closing_steps,
};
pub use coulter::{CoulterAdvice, CoulterUse, coulter};
pub use cover::{CoverAdvice, Starter, cover};
pub use depth::{DepthAdvice, DepthMove, FurrowIron, depth};
pub use down_force::{DownForceAdvice, Reach, SoilUsed};
pub use draft::{
    DraftRow, Hauling, PowerAdvice, RowDraft, TractionSurface, TractorKind, power, surface_of,
};
pub use figures::{FigureRanges, RowFigures, figure_ranges};
pub use force_ranges::{ForceRange, NamedForce};
pub use frame::{FrameStage, StageKind, frame_stages};
pub use goals::Goals;
pub use hopper::{HopperAdvice, HopperChange, LevelSetting};
pub use measure_next::{Narrowing, NextMeasurement};
pub use old_rows::{OldRowsAdvice, old_rows};
pub use recommend::{ENGINE, Inputs, Recommendation, recommend};
pub use remedies::Remedy;
pub use row_cleaner::{CleanerUse, RowCleanerAdvice, row_cleaner};
pub use seed_order::{FieldSeed, SeedOrder, SeedPack, seed_order};
pub use seeding::{SeedingAdvice, SeedingGoal, seeding, seeding_in};
pub use soil_state::SoilFrom;
pub use source_check::{SettableForce, SourceCheck, SourceKnown};
pub use spacing::{
    SeedingError, population, row_length_of_acre, seed_weight, seeding_rate, seeds_in, spacing,
};
pub use speed::SpeedAdvice;
pub use wall::{WallAdvice, WallRisk, wall_risk};
pub use window::{LoadWindow, WindowEdges, load_window};
pub use work::{
    Pace, Pacing, PriceOfSpeed, SpeedBound, SpeedLimit, Work, WorkAdvice, WorkArea,
    fastest_with_contact, suitable_share, work,
};
