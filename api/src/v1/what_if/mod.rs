//! `/v1/what-if`: each calculation alone, nothing stored.
//!
//! One file, or one folder, a calculation: what goes in, what comes out, and the operation. The
//! description of each holds a worked example, which is also the example of its body and of its
//! answer; a test posts the one and compares the other.

mod arm_angle;
mod calibration;
mod catch_test;
mod closing_wheels;
mod contact_loss;
mod cover_biomass;
mod cover_nitrogen;
mod cylinder_force;
mod degree_days;
mod depth_statistics;
mod dig_plan;
mod disc_wear;
mod draft;
mod field_capacity;
mod fitness;
mod frame_weight;
mod green_bridge;
mod in_furrow_flow;
mod member;
mod planting_depth;
mod power;
mod price_of_speed;
mod relative_yield;
mod report;
mod residue_cover;
mod residue_handling;
mod row_length;
mod row_spacing;
mod row_unit_forces;
mod salt_limit;
mod sample_size;
mod seed_order;
mod seed_placed_fertilizer;
mod seeding_rate;
mod settings;
mod soil_strength;
mod soil_temperature_under_cover;
mod soil_water_used;
mod spacing_quality;
mod split_plot_analysis;
mod stand_count;
mod step;
mod termination_date;
mod texture;
mod texture_by_feel;
mod trial_analysis;
mod trial_plan;
mod trial_power;
mod words;

pub use relative_yield::{TableGap, YieldTableName};
pub(super) use settings::worked_example as worked_sheet;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(settings::calculate)
        .service(planting_depth::calculate)
        .service(closing_wheels::calculate)
        .service(residue_handling::calculate)
        .service(row_unit_forces::calculate)
        .service(arm_angle::calculate)
        .service(contact_loss::calculate)
        .service(cylinder_force::calculate)
        .service(calibration::calculate)
        .service(frame_weight::calculate)
        .service(disc_wear::calculate)
        .service(row_spacing::calculate)
        .service(row_length::calculate)
        .service(seeding_rate::calculate)
        .service(seed_order::calculate)
        .service(stand_count::calculate)
        .service(field_capacity::calculate)
        .service(price_of_speed::calculate)
        .service(relative_yield::calculate)
        .service(power::calculate)
        .service(draft::calculate)
        .service(degree_days::calculate)
        .service(texture::calculate)
        .service(texture_by_feel::calculate)
        .service(soil_strength::calculate)
        .service(fitness::calculate)
        .service(soil_temperature_under_cover::calculate)
        .service(soil_water_used::calculate)
        .service(cover_biomass::calculate)
        .service(cover_nitrogen::calculate)
        .service(termination_date::calculate)
        .service(green_bridge::calculate)
        .service(residue_cover::calculate)
        .service(spacing_quality::calculate)
        .service(depth_statistics::calculate)
        .service(dig_plan::calculate)
        .service(in_furrow_flow::calculate)
        .service(catch_test::calculate)
        .service(salt_limit::calculate)
        .service(seed_placed_fertilizer::calculate)
        .service(trial_analysis::calculate)
        .service(trial_power::calculate)
        .service(sample_size::calculate)
        .service(split_plot_analysis::calculate);
}
