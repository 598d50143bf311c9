//! What can need somebody, and how urgently.

use sea_orm::{EnumIter, Iterable};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What needs somebody.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema, EnumIter,
)]
#[serde(rename_all = "snake_case")]
#[schema(example = "dig_overdue")]
pub enum AttentionKind {
    /// A dig asks for a change, did not settle the depth, or found it off target.
    DigFailed,
    /// A field was planted, or its sheet seen, and nobody has dug.
    DigOverdue,
    /// An inspection found a part that is to be replaced before the planter goes out.
    ReplacementOpen,
    /// A sheet was issued and nobody has confirmed that it was seen.
    SheetUnseen,
    /// A sheet rests on conditions that are old.
    ConditionsOld,
    /// A stand is to be counted.
    StandDue,
    /// Nobody has measured down force against pressure on a planter that needs it.
    CalibrationMissing,
    /// The calibration of a planter is old.
    CalibrationOld,
    /// A planter was not inspected before the season.
    InspectionDue,
    /// A grower has no sheet while others plant.
    GrowerWithoutSheet,
    /// A job of the service failed for good, such as mail that was refused. Only the lead sees it.
    JobFailed,
    /// A webhook was stopped, or notices to it were given up. The lead sees it, and a records system
    /// where it made the webhook.
    NoticesFailed,
    /// A records system and the practice both changed the same. Whoever keeps growers and fields sees
    /// it, as the two that follow.
    RecordsDiffer,
    /// Records look like what is here, or lack what a person must say; one entry a grower.
    RecordsWait,
    /// A records system no longer lists what it once listed; one entry a grower.
    RecordsGone,
    /// What a link to a records system fetches does not come any more. The lead sees it, and a records
    /// system where it made the link.
    RecordsLinkFailed,
}

impl AttentionKind {
    /// As it stands in keys and in JSON.
    pub const fn code(self) -> &'static str {
        match self {
            Self::DigFailed => "dig_failed",
            Self::DigOverdue => "dig_overdue",
            Self::ReplacementOpen => "replacement_open",
            Self::SheetUnseen => "sheet_unseen",
            Self::ConditionsOld => "conditions_old",
            Self::StandDue => "stand_due",
            Self::CalibrationMissing => "calibration_missing",
            Self::CalibrationOld => "calibration_old",
            Self::InspectionDue => "inspection_due",
            Self::GrowerWithoutSheet => "grower_without_sheet",
            Self::JobFailed => "job_failed",
            Self::NoticesFailed => "notices_failed",
            Self::RecordsDiffer => "records_differ",
            Self::RecordsWait => "records_wait",
            Self::RecordsGone => "records_gone",
            Self::RecordsLinkFailed => "records_link_failed",
        }
    }

    /// Whether it is known before that it will be due: the others are news when they come.
    pub const fn is_foreseen(self) -> bool {
        matches!(
            self,
            Self::DigOverdue | Self::StandDue | Self::CalibrationOld | Self::InspectionDue
        )
    }

    /// As a heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::DigFailed => "See to a dig",
            Self::DigOverdue => "Dig check due",
            Self::ReplacementOpen => "Mend the planter",
            Self::SheetUnseen => "Sheet not seen",
            Self::ConditionsOld => "Look at the field again",
            Self::StandDue => "Count the stand",
            Self::CalibrationMissing => "Measure down force",
            Self::CalibrationOld => "Measure down force again",
            Self::InspectionDue => "Inspect the planter",
            Self::GrowerWithoutSheet => "No sheet yet",
            Self::JobFailed => "Mail did not go out",
            Self::NoticesFailed => "Notices do not get through",
            Self::RecordsDiffer => "Changed on both sides",
            Self::RecordsWait => "Say what records are",
            Self::RecordsGone => "No longer in the records",
            Self::RecordsLinkFailed => "Records do not come in",
        }
    }

    /// The kind of this code.
    pub fn named(code: &str) -> Option<Self> {
        Self::iter().find(|kind| kind.code() == code)
    }
}

/// How urgent it is.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema, EnumIter,
)]
#[serde(rename_all = "snake_case")]
#[schema(example = "now")]
pub enum Urgency {
    /// Seed goes into the ground while it waits.
    Now,
    /// Within days.
    Soon,
    /// It can wait for a quiet day.
    WhenYouCan,
}

impl Urgency {
    /// As people say it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Now => "Now",
            Self::Soon => "Soon",
            Self::WhenYouCan => "When you can",
        }
    }
}

/// What kind of object an entry is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(example = "recommendation")]
pub enum AttentionObjectKind {
    /// A recommendation.
    Recommendation,
    /// A dig check.
    DigCheck,
    /// An adjustment.
    Adjustment,
    /// A planting.
    Planting,
    /// A planter.
    Planter,
    /// An inspection.
    Inspection,
    /// A grower.
    Grower,
    /// A job of the service.
    Job,
    /// A webhook.
    Webhook,
    /// A member that both sides changed.
    RecordConflict,
    /// A record that waits.
    RecordMatch,
    /// A link to a records system.
    RecordsLink,
}

impl AttentionObjectKind {
    /// The collection it is found in.
    pub const fn collection(self) -> &'static str {
        match self {
            Self::Recommendation => "recommendations",
            Self::DigCheck => "dig-checks",
            Self::Adjustment => "adjustments",
            Self::Planting => "plantings",
            Self::Planter => "planters",
            Self::Inspection => "inspections",
            Self::Grower => "growers",
            Self::Job => "jobs",
            Self::Webhook => "webhooks",
            Self::RecordConflict => "record-conflicts",
            Self::RecordMatch => "record-matches",
            Self::RecordsLink => "records-links",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::AttentionKind;
    use sea_orm::Iterable;

    #[test]
    fn a_code_is_what_json_says() {
        for kind in AttentionKind::iter() {
            let json = serde_json::to_value(kind).expect("JSON");
            assert_eq!(json, kind.code());
            assert_eq!(AttentionKind::named(kind.code()), Some(kind));
        }
        assert_eq!(AttentionKind::named("anything"), None);
    }
}
