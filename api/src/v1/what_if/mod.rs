//! `/v1/what-if`: each calculation alone, nothing stored.
//!
//! One file, or one folder, a calculation: what goes in, what comes out, and the operation. The
//! description of each holds a worked example, which is also the example of its body and of its
//! answer; a test posts the one and compares the other.

mod arm_angle;
mod calibration;
mod contact_loss;
mod cover_biomass;
mod cylinder_force;
mod degree_days;
mod depth_statistics;
mod disc_wear;
mod field_capacity;
mod fitness;
mod frame_weight;
mod member;
mod power;
mod residue_cover;
mod row_spacing;
mod row_unit_forces;
mod seeding_rate;
mod soil_strength;
mod spacing_quality;
mod stand_count;
mod step;
mod texture;
mod words;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(row_unit_forces::calculate)
        .service(arm_angle::calculate)
        .service(contact_loss::calculate)
        .service(cylinder_force::calculate)
        .service(calibration::calculate)
        .service(frame_weight::calculate)
        .service(disc_wear::calculate)
        .service(row_spacing::calculate)
        .service(seeding_rate::calculate)
        .service(stand_count::calculate)
        .service(field_capacity::calculate)
        .service(power::calculate)
        .service(degree_days::calculate)
        .service(texture::calculate)
        .service(soil_strength::calculate)
        .service(fitness::calculate)
        .service(cover_biomass::calculate)
        .service(residue_cover::calculate)
        .service(spacing_quality::calculate)
        .service(depth_statistics::calculate);
}
