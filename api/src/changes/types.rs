//! The types of changes: the one table.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Whether growers are told: what is a draft is hidden from them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Growers {
    Told,
    NotTold,
}

macro_rules! change_types {
    ($($name:ident, $wire:tt, $kind:literal, $path:expr, $growers:ident, $what:tt;)*) => {
        /// What kind of change it is. More may come: leave out what you do not know.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ToSchema)]
        #[schema(example = "settings_sheet.published")]
        pub enum ChangeType {
            $(
                #[doc = $what]
                #[serde(rename = $wire)]
                $name,
            )*
        }

        impl ChangeType {
            /// Every type.
            pub const ALL: &[Self] = &[$(Self::$name),*];

            /// The name over the wire, as in `field.changed`.
            pub fn wire(self) -> &'static str {
                match self { $(Self::$name => $wire),* }
            }

            /// The kind of the object that changes, as in the audit trail.
            pub fn object_kind(self) -> &'static str {
                match self { $(Self::$name => $kind),* }
            }

            /// What it says, in a sentence.
            pub fn meaning(self) -> &'static str {
                match self { $(Self::$name => $what),* }
            }

            /// Where the object is read, with `{id}`; `None` when it is gone or read in a list only.
            pub(super) fn path(self) -> Option<&'static str> {
                match self { $(Self::$name => $path),* }
            }

            fn growers(self) -> Growers {
                match self { $(Self::$name => Growers::$growers),* }
            }
        }
    };
}

change_types! {
    GrowerCreated, "grower.created", "grower", Some("/v1/growers/{id}"), Told,
        "A grower was entered.";
    GrowerChanged, "grower.changed", "grower", Some("/v1/growers/{id}"), Told,
        "A grower was changed.";
    GrowerDeleted, "grower.deleted", "grower", None, Told,
        "A grower without farms and planters was deleted.";
    GrowerErased, "grower.erased", "grower", Some("/v1/growers/{id}"), Told,
        "What names a grower was erased: let go of all that you hold of the grower, and of what belongs to it.";
    FarmCreated, "farm.created", "farm", Some("/v1/farms/{id}"), Told,
        "A farm was entered.";
    FarmChanged, "farm.changed", "farm", Some("/v1/farms/{id}"), Told,
        "A farm was changed.";
    FarmDeleted, "farm.deleted", "farm", None, Told,
        "A farm was deleted.";
    FieldCreated, "field.created", "field", Some("/v1/fields/{id}"), Told,
        "A field was entered.";
    FieldChanged, "field.changed", "field", Some("/v1/fields/{id}"), Told,
        "A field was changed.";
    FieldDeleted, "field.deleted", "field", None, Told,
        "A field was deleted.";
    PlanterCreated, "planter.created", "planter", Some("/v1/planters/{id}"), Told,
        "A planter was entered.";
    PlanterChanged, "planter.changed", "planter", Some("/v1/planters/{id}"), Told,
        "A planter was changed: its name, its make-up, or discs that were measured were taken in.";
    PlanterDeleted, "planter.deleted", "planter", None, Told,
        "A planter was deleted.";
    CalibrationRecorded, "calibration.recorded", "calibration", None, Told,
        "A planter was calibrated.";
    InspectionRecorded, "inspection.recorded", "inspection", Some("/v1/inspections/{id}"), Told,
        "A planter was inspected in the shed.";
    RepairRecorded, "repair.recorded", "repair", None, Told,
        "Something was mended on a planter.";
    WearLimitsChanged, "wear_limits.changed", "wear_limits", Some("/v1/planters/{id}/wear-limits"), Told,
        "The wear limits of a planter were set; the object is the planter.";
    ConditionsReported, "conditions_report.recorded", "conditions_report", Some("/v1/conditions/{id}"), Told,
        "The conditions of a field were reported.";
    SettingsSheetDrafted, "settings_sheet.drafted", "recommendation", Some("/v1/recommendations/{id}"), NotTold,
        "A draft of a settings sheet was made.";
    SettingsSheetDraftDeleted, "settings_sheet.draft_deleted", "recommendation", None, NotTold,
        "A draft of a settings sheet was deleted.";
    SettingsSheetPublished, "settings_sheet.published", "recommendation", Some("/v1/recommendations/{id}"), Told,
        "A settings sheet was issued: it counts from now on.";
    SettingsSheetSuperseded, "settings_sheet.superseded", "recommendation", Some("/v1/recommendations/{id}"), Told,
        "A settings sheet was replaced by a later revision, which was issued.";
    SettingsSheetSeen, "settings_sheet.seen", "recommendation", Some("/v1/recommendations/{id}"), Told,
        "A settings sheet was acknowledged.";
    DigCheckRecorded, "dig_check.recorded", "dig_check", Some("/v1/dig-checks/{id}"), Told,
        "A dig check came in and was judged.";
    AdjustmentProposed, "adjustment.proposed", "adjustment", Some("/v1/adjustments/{id}"), Told,
        "A dig check proposed a change, which waits for a decision.";
    AdjustmentAccepted, "adjustment.accepted", "adjustment", Some("/v1/adjustments/{id}"), Told,
        "A proposed change was accepted.";
    AdjustmentDeclined, "adjustment.declined", "adjustment", Some("/v1/adjustments/{id}"), Told,
        "A proposed change was declined.";
    PlantingRecorded, "planting.recorded", "planting", Some("/v1/plantings/{id}"), Told,
        "A planting was reported.";
    PlantingChanged, "planting.changed", "planting", Some("/v1/plantings/{id}"), Told,
        "A planting was changed.";
    PlantingDeleted, "planting.deleted", "planting", None, Told,
        "A planting was deleted.";
    TemperaturesRecorded, "temperatures.recorded", "temperatures", Some("/v1/farms/{id}/temperatures"), Told,
        "Daily temperatures of a farm came in; the object is the farm.";
    StandCountRecorded, "stand_count.recorded", "stand_count", Some("/v1/stand-counts/{id}"), Told,
        "A stand was counted.";
    YieldRecorded, "yield.recorded", "yield", Some("/v1/yields/{id}"), Told,
        "The yield of a field was reported.";
    YieldChanged, "yield.changed", "yield", Some("/v1/yields/{id}"), Told,
        "The yield of a field was changed.";
    YieldDeleted, "yield.deleted", "yield", None, Told,
        "The yield of a field was deleted.";
    TrialDrafted, "trial.drafted", "trial", Some("/v1/trials/{id}"), NotTold,
        "A trial was laid out or changed, as a draft.";
    TrialDraftDeleted, "trial.draft_deleted", "trial", None, NotTold,
        "A draft of a trial was deleted.";
    TrialStarted, "trial.started", "trial", Some("/v1/trials/{id}"), Told,
        "A trial was started: its layout stays from now on.";
    TrialPlotRecorded, "trial.plot_recorded", "trial", Some("/v1/trials/{id}/plots"), Told,
        "Something was found on a plot of a trial; the object is the trial.";
    TrialClosed, "trial.closed", "trial", Some("/v1/trials/{id}"), Told,
        "A trial was closed.";
    CoefficientChanged, "coefficient.changed", "coefficient", Some("/v1/coefficients/{id}"), NotTold,
        "The practice set a figure of its own, or went back to the one that ships; the object is its name.";
    PracticeChanged, "practice.changed", "practice", Some("/v1/practice"), NotTold,
        "The settings of the practice were changed.";
}

impl ChangeType {
    /// The type of this name.
    pub fn named(wire: &str) -> Option<Self> {
        Self::ALL.iter().find(|it| it.wire() == wire).copied()
    }

    /// Whether a grower's account learns of it: it learns of nothing that is a draft, nor of what is
    /// the practice's alone.
    pub fn tells_growers(self) -> bool {
        self.growers() == Growers::Told
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::ChangeType;

    #[test]
    fn names_are_unique_found_again_and_those_of_the_wire() {
        let names: BTreeSet<&str> = ChangeType::ALL.iter().map(|it| it.wire()).collect();
        assert_eq!(names.len(), ChangeType::ALL.len());
        for it in ChangeType::ALL {
            assert_eq!(ChangeType::named(it.wire()), Some(*it));
            let wire = serde_json::to_value(it).expect("JSON");
            assert_eq!(wire, it.wire());
            let (object, what) = it.wire().split_once('.').expect("object and what happened");
            let plain = |text: &str| text.bytes().all(|b| b.is_ascii_lowercase() || b == b'_');
            assert!(plain(object) && plain(what), "{wire}");
            assert!(it.meaning().ends_with('.'), "{wire}");
        }
        assert_eq!(ChangeType::named("field"), None);
    }

    #[test]
    fn what_is_gone_is_read_nowhere() {
        for it in ChangeType::ALL.iter().filter(|it| it.wire().ends_with("deleted")) {
            assert_eq!(it.path(), None, "{}", it.wire());
        }
    }
}
