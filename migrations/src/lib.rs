//! The database schema, one step a file, up and down, on SQLite and PostgreSQL.
//!
//! An applied step is never edited: write the next one. `schema.sql` beside this crate is the
//! resulting SQLite schema; `cargo run -p migrations --example dump_schema` prints it anew.

#![expect(
    elided_lifetimes_in_paths,
    reason = "the signatures of the migration trait are written without them and must match"
)]

use sea_orm_migration::prelude::*;

mod m20261125_000001_create_practices;
mod m20261125_000002_create_signing_keys;
mod m20261125_000003_create_accounts;
mod m20261125_000004_create_growers;
mod m20261125_000005_create_farms;
mod m20261125_000006_create_fields;
mod m20261125_000007_create_planters;
mod m20261125_000008_create_calibrations;
mod m20261125_000009_create_conditions_reports;
mod m20261125_000010_create_recommendations;
mod m20261125_000011_create_dig_checks;
mod m20261125_000012_create_adjustments;
mod m20261125_000013_create_own_coefficients;
mod m20261125_000014_create_coefficient_sets;
mod m20261125_000015_tie_recommendations_to_sets;
mod m20261128_000016_create_dig_lessons;
mod m20261128_000017_tell_dig_checks_apart;
mod m20261128_000018_create_sessions;
mod m20261128_000019_manage_accounts;
mod m20261128_000020_create_machine_clients;
mod m20261128_000021_create_access_links;
mod m20261128_000022_create_outside_identities;
mod m20261128_000023_give_practices_settings;
mod m20261128_000024_create_grower_erasures;
mod m20261128_000025_create_idempotency_keys;
mod m20261128_000026_create_audit_events;
mod m20261128_000027_follow_changes;
mod m20261128_000028_rotate_signing_keys;
mod m20261128_000029_create_inspections;
mod m20261128_000030_create_wear_limits;
mod m20261128_000031_create_repairs;
mod m20261128_000032_create_plantings;
mod m20261128_000033_create_air_temperatures;
mod m20261128_000034_create_stand_counts;
mod m20261128_000035_create_trials;
mod m20261128_000036_create_trial_entries;
mod m20261128_000038_create_jobs;
mod m20261128_000039_create_attention;
mod m20261128_000040_reach_people;
mod m20261128_000041_give_practices_seasons;
mod m20261128_000042_create_season_digs;
mod m20261128_000043_create_season_sums;
mod m20261128_000050_create_webhooks;
mod m20261128_000051_create_deliveries;
mod m20261128_000054_create_changes;
mod m20261128_000055_create_yields;
mod m20261128_000057_create_external_ids;
mod m20261128_000058_create_record_matches;
mod m20261128_000059_create_record_conflicts;
mod m20261128_000061_create_records_links;
mod m20261128_000062_create_records_runs;
mod m20261128_000066_keep_costs;
mod m20261128_000067_keep_out_the_erased;
mod m20261128_000078_find_what_waits;
mod schema_dump;
mod tenant;

pub use schema_dump::sqlite_schema;
/// The library under the steps, for callers that apply or ask about them.
pub use sea_orm_migration::prelude::MigratorTrait;

/// All steps, oldest first.
#[derive(Debug, Clone, Copy)]
pub struct Migrator;

impl MigratorTrait for Migrator {
    fn migrations() -> Vec<Box<dyn MigrationTrait>> {
        vec![
            Box::new(m20261125_000001_create_practices::Migration),
            Box::new(m20261125_000002_create_signing_keys::Migration),
            Box::new(m20261125_000003_create_accounts::Migration),
            Box::new(m20261125_000004_create_growers::Migration),
            Box::new(m20261125_000005_create_farms::Migration),
            Box::new(m20261125_000006_create_fields::Migration),
            Box::new(m20261125_000007_create_planters::Migration),
            Box::new(m20261125_000008_create_calibrations::Migration),
            Box::new(m20261125_000009_create_conditions_reports::Migration),
            Box::new(m20261125_000010_create_recommendations::Migration),
            Box::new(m20261125_000011_create_dig_checks::Migration),
            Box::new(m20261125_000012_create_adjustments::Migration),
            Box::new(m20261125_000013_create_own_coefficients::Migration),
            Box::new(m20261125_000014_create_coefficient_sets::Migration),
            Box::new(m20261125_000015_tie_recommendations_to_sets::Migration),
            Box::new(m20261128_000016_create_dig_lessons::Migration),
            Box::new(m20261128_000017_tell_dig_checks_apart::Migration),
            Box::new(m20261128_000018_create_sessions::Migration),
            Box::new(m20261128_000019_manage_accounts::Migration),
            Box::new(m20261128_000020_create_machine_clients::Migration),
            Box::new(m20261128_000021_create_access_links::Migration),
            Box::new(m20261128_000022_create_outside_identities::Migration),
            Box::new(m20261128_000023_give_practices_settings::Migration),
            Box::new(m20261128_000024_create_grower_erasures::Migration),
            Box::new(m20261128_000025_create_idempotency_keys::Migration),
            Box::new(m20261128_000026_create_audit_events::Migration),
            Box::new(m20261128_000027_follow_changes::Migration),
            Box::new(m20261128_000028_rotate_signing_keys::Migration),
            Box::new(m20261128_000029_create_inspections::Migration),
            Box::new(m20261128_000030_create_wear_limits::Migration),
            Box::new(m20261128_000031_create_repairs::Migration),
            Box::new(m20261128_000032_create_plantings::Migration),
            Box::new(m20261128_000033_create_air_temperatures::Migration),
            Box::new(m20261128_000034_create_stand_counts::Migration),
            Box::new(m20261128_000035_create_trials::Migration),
            Box::new(m20261128_000036_create_trial_entries::Migration),
            Box::new(m20261128_000038_create_jobs::Migration),
            Box::new(m20261128_000039_create_attention::Migration),
            Box::new(m20261128_000040_reach_people::Migration),
            Box::new(m20261128_000041_give_practices_seasons::Migration),
            Box::new(m20261128_000042_create_season_digs::Migration),
            Box::new(m20261128_000043_create_season_sums::Migration),
            Box::new(m20261128_000050_create_webhooks::Migration),
            Box::new(m20261128_000051_create_deliveries::Migration),
            Box::new(m20261128_000054_create_changes::Migration),
            Box::new(m20261128_000057_create_external_ids::Migration),
            Box::new(m20261128_000058_create_record_matches::Migration),
            Box::new(m20261128_000059_create_record_conflicts::Migration),
            Box::new(m20261128_000055_create_yields::Migration),
            Box::new(m20261128_000061_create_records_links::Migration),
            Box::new(m20261128_000062_create_records_runs::Migration),
            Box::new(m20261128_000066_keep_costs::Migration),
            Box::new(m20261128_000067_keep_out_the_erased::Migration),
            Box::new(m20261128_000078_find_what_waits::Migration),
        ]
    }
}
