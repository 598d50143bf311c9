//! The rows of the database, one file a table. Row types stay inside this crate's storage code.

pub mod access_links;
pub mod accounts;
pub mod adjustments;
pub mod air_temperatures;
pub mod attention_limits;
pub mod attention_marks;
pub mod audit_events;
pub mod calendar_entries;
pub mod calendar_feeds;
pub mod calibrations;
pub mod change_counters;
pub mod changes;
pub mod client_secrets;
pub mod coefficient_sets;
pub mod conditions_reports;
pub mod deliveries;
pub mod dig_checks;
pub mod dig_lessons;
pub mod erased_records;
pub mod external_ids;
pub mod farms;
pub mod fields;
pub mod grower_erasures;
pub mod growers;
pub mod idempotency_keys;
pub mod inspections;
pub mod jobs;
pub mod lesson_counters;
pub mod machine_clients;
pub mod mail_wishes;
pub mod open_replacements;
pub mod outside_identities;
pub mod own_coefficients;
pub mod password_links;
pub mod planters;
pub mod plantings;
pub mod practices;
pub mod recommendations;
pub mod record_conflicts;
pub mod record_matches;
pub mod records_links;
pub mod records_runs;
pub mod refresh_tokens;
pub mod repairs;
pub mod season_digs;
pub mod season_fields;
pub mod season_planters;
pub mod sessions;
pub mod sheet_links;
pub mod signing_keys;
pub mod stand_counts;
pub mod trial_entries;
pub mod trials;
pub mod wear_limits;
pub mod webhooks;
pub mod yields;

#[cfg(test)]
mod tests {
    use migrations::{Migrator, MigratorTrait};
    use sea_orm::{Database, EntityTrait, QuerySelect};

    macro_rules! selects {
        ($db:expr, $($table:ident)*) => {$(
            super::$table::Entity::find().limit(1).all($db).await.expect(stringify!($table));
        )*};
    }

    #[tokio::test]
    async fn each_row_type_fits_its_table() {
        let mut options = sea_orm::ConnectOptions::new("sqlite::memory:");
        options.max_connections(1);
        let db = Database::connect(options).await.expect("database");
        Migrator::up(&db, None).await.expect("up");
        selects!(&db, change_counters changes yields access_links accounts adjustments air_temperatures attention_limits attention_marks audit_events calendar_entries calendar_feeds calibrations client_secrets coefficient_sets conditions_reports deliveries dig_checks dig_lessons erased_records external_ids farms fields grower_erasures growers idempotency_keys inspections jobs lesson_counters machine_clients mail_wishes open_replacements outside_identities own_coefficients password_links planters plantings practices recommendations record_conflicts record_matches refresh_tokens repairs season_digs season_fields season_planters sessions sheet_links signing_keys stand_counts wear_limits webhooks trial_entries trials);
    }
}
