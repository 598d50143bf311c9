//! Liquids in the furrow: how much may go there, what runs through each outlet, and how to check.
//!
//! The label of a product is the law and comes before everything here.

mod advice;
mod catch;
mod flow;
mod heed;
mod inoculant;
mod mixing;
mod nutrients;
mod plan;
mod salt;
mod salt_index;
mod salt_limit;
mod say;
mod seed_placed;
mod stops;
mod tank;

pub use advice::{InFurrowAdvice, InFurrowVerdict, in_furrow};
pub use catch::{CatchBasis, CatchError, CatchTest, OutletCatch, catch_test};
pub use flow::{
    OutletSetting, caught, course_length, course_time, flow_rate, outlet_flow, outlet_setting,
};
pub use mixing::{JAR_TEST, JarStep};
pub use nutrients::{Analysis, NutrientContent, TooMuch};
pub use plan::{InFurrowPlan, InFurrowProduct};
pub use salt::SaltBalance;
pub use salt_index::salt_indexes;
pub use salt_limit::{NoSaltLimit, PublishedLimit, SaltLimit, SaltSoil, other_limits, salt_limit};
pub use seed_placed::{
    SeedMaterial, SeedPlaced, SeedPlacedError, SeedPlacedSoil, seed_placed, seed_placed_watch,
};
pub use stops::{NeverInFurrow, Stop, stops};
pub use tank::{TankPlan, tank_plan};
