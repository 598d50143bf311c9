//! Which operation tells what: the one table. A test fails when an operation that writes has no row.

use super::types::ChangeType;

/// What an operation tells those who follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tells {
    /// This of the object that it touches, and what it says itself by `Touched::also`.
    Of(ChangeType),
    /// Only what it says itself by `Touched::also`: which it is depends on what was there.
    AsSaid,
    /// Nothing: it is no record of growers or their work.
    Nobody,
}

/// What an operation tells; `None` when it has no row.
pub fn of_operation(operation: &str) -> Option<Tells> {
    TABLE.iter().find(|(ids, _)| ids.contains(&operation)).map(|(_, tells)| *tells)
}

use ChangeType as C;
use Tells::{AsSaid, Nobody, Of};

const TABLE: &[(&[&str], Tells)] = &[
    (&["create_grower"], Of(C::GrowerCreated)),
    (&["update_grower"], Of(C::GrowerChanged)),
    (&["delete_grower"], Of(C::GrowerDeleted)),
    (&["erase_grower"], Of(C::GrowerErased)),
    (&["create_farm"], Of(C::FarmCreated)),
    (&["update_farm"], Of(C::FarmChanged)),
    (&["delete_farm"], Of(C::FarmDeleted)),
    (&["create_field"], Of(C::FieldCreated)),
    (&["update_field"], Of(C::FieldChanged)),
    (&["delete_field"], Of(C::FieldDeleted)),
    (&["create_planter"], Of(C::PlanterCreated)),
    (&["update_planter", "adopt_inspection"], Of(C::PlanterChanged)),
    (&["delete_planter"], Of(C::PlanterDeleted)),
    (&["create_calibration"], Of(C::CalibrationRecorded)),
    (&["create_inspection"], Of(C::InspectionRecorded)),
    (&["create_repair"], Of(C::RepairRecorded)),
    (&["set_wear_limits"], Of(C::WearLimitsChanged)),
    (&["create_conditions_report"], Of(C::ConditionsReported)),
    (&["create_recommendation", "revise_recommendation"], Of(C::SettingsSheetDrafted)),
    (&["delete_recommendation"], Of(C::SettingsSheetDraftDeleted)),
    (&["issue_recommendation"], Of(C::SettingsSheetPublished)),
    (&["acknowledge_recommendation"], Of(C::SettingsSheetSeen)),
    (&["create_dig_check"], Of(C::DigCheckRecorded)),
    (&["accept_adjustment"], Of(C::AdjustmentAccepted)),
    (&["decline_adjustment"], Of(C::AdjustmentDeclined)),
    (&["create_planting"], Of(C::PlantingRecorded)),
    (&["update_planting"], Of(C::PlantingChanged)),
    (&["delete_planting"], Of(C::PlantingDeleted)),
    (&["send_temperatures", "import_temperatures"], Of(C::TemperaturesRecorded)),
    (&["create_stand_count"], Of(C::StandCountRecorded)),
    (&["create_yield"], Of(C::YieldRecorded)),
    (&["update_yield"], Of(C::YieldChanged)),
    (&["delete_yield"], Of(C::YieldDeleted)),
    (&["create_trial", "update_trial"], Of(C::TrialDrafted)),
    (&["delete_trial"], Of(C::TrialDraftDeleted)),
    (&["start_trial"], Of(C::TrialStarted)),
    (&["create_trial_plot"], Of(C::TrialPlotRecorded)),
    (&["close_trial"], Of(C::TrialClosed)),
    (&["set_coefficient", "reset_coefficient"], Of(C::CoefficientChanged)),
    (&["update_practice"], Of(C::PracticeChanged)),
    // What is made and changed is told where it is taken, in `exchange::intake`.
    (&["import_csv", "import_geojson", "import_task_data"], AsSaid),
    (
        &[
            "put_external_grower",
            "put_external_farm",
            "put_external_field",
            "put_external_planter",
            "put_external_yield",
            "put_external_batch",
            "decide_record_match",
            "decide_record_conflict",
        ],
        AsSaid,
    ),
    // Which ids others give.
    (
        &[
            "delete_external_grower",
            "delete_external_farm",
            "delete_external_field",
            "delete_external_planter",
            "delete_external_yield",
        ],
        Nobody,
    ),
    // Who may come in, and how.
    (
        &[
            "create_session",
            "refresh_session",
            "end_session",
            "end_present_session",
            "issue_token",
            "create_account",
            "update_account",
            "update_own_account",
            "change_own_password",
            "create_password_link",
            "redeem_password_link",
            "mail_password_link",
            "create_access_link",
            "redeem_access_link",
            "revoke_access_link",
            "mail_access_link",
            "create_machine_client",
            "update_machine_client",
            "delete_machine_client",
            "create_client_secret",
            "delete_client_secret",
        ],
        Nobody,
    ),
    // How people are reached and what they put off.
    (
        &[
            "set_own_mail",
            "set_grower_mail",
            "create_calendar_feed",
            "revoke_calendar_feed",
            "assign_attention",
            "unassign_attention",
            "snooze_attention",
            "wake_attention",
            "update_attention_limits",
            "retry_job",
            "delete_job",
            "create_webhook",
            "update_webhook",
            "delete_webhook",
            "rotate_webhook_secret",
            "test_webhook",
            "pause_webhook",
            "resume_webhook",
            "replay_changes",
            "replay_dead_deliveries",
            "replay_delivery",
            "create_records_link",
            "update_records_link",
            "delete_records_link",
            "create_records_run",
        ],
        Nobody,
    ),
    // Looks at another system and stores nothing.
    (&["test_records_link"], Nobody),
    // Read, and noted only because it is a grower's data.
    (&["export_grower"], Nobody),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::{TABLE, Tells, of_operation};
    use crate::changes::ChangeType;

    #[test]
    fn each_operation_stands_there_once() {
        let mut seen = BTreeSet::new();
        for id in TABLE.iter().flat_map(|(ids, _)| *ids) {
            assert!(seen.insert(id), "{id}");
        }
        assert_eq!(of_operation("create_farm"), Some(Tells::Of(ChangeType::FarmCreated)));
        assert_eq!(of_operation("create_session"), Some(Tells::Nobody));
        assert_eq!(of_operation("create_nothing"), None);
    }
}
