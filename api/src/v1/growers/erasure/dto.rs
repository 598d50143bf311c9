//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::http::{ApiError, text};

const LONGEST_REASON: usize = 500;

/// Why the data of a grower is erased.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"reason": "Asked for by letter of 12 April."})))]
pub struct ErasureIn {
    /// The reason; it is kept, so name nobody.
    #[schema(
        min_length = 1,
        max_length = 500,
        example = "Asked for by letter of 12 April.",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub reason: String,
}

impl ErasureIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<String, ApiError> {
        Ok(text::line("/reason", &self.reason, LONGEST_REASON)?)
    }
}

/// A kind of what is known of a grower.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(example = "farms")]
pub enum ErasedKind {
    /// The grower: name, telephone number, e-mail address, notes.
    Grower,
    /// Farms.
    Farms,
    /// Fields: name, boundary, area, notes.
    Fields,
    /// Planters: name.
    Planters,
    /// Calibrations: notes.
    Calibrations,
    /// Conditions reports: notes.
    ConditionsReports,
    /// Recommendations.
    Recommendations,
    /// Dig checks: place, notes.
    DigChecks,
    /// What digs taught.
    Lessons,
    /// Adjustments: the reason.
    Adjustments,
    /// Accounts: name, e-mail address, password.
    Accounts,
    /// Sessions of the accounts, with their refresh tokens.
    Sessions,
    /// Links that set a password.
    PasswordLinks,
    /// Who the accounts are at another issuer.
    OutsideIdentities,
    /// Links that let the grower in: notes.
    AccessLinks,
    /// What people said about entries of the attention list.
    AttentionMarks,
    /// Calendar feeds of the grower.
    CalendarFeeds,
    /// What the grower wanted by mail.
    MailWishes,
    /// Mail to the grower that went out, or waits.
    Jobs,
    /// Addresses that show a sheet.
    SheetLinks,
    /// What was found on the plots of trials.
    TrialEntries,
    /// Trials.
    Trials,
    /// What was planted.
    Plantings,
    /// Air temperatures of the farms.
    Temperatures,
    /// What was counted after emergence.
    StandCounts,
    /// What was harvested.
    Yields,
    /// Ids that records systems give, and what they said last.
    ExternalIds,
    /// Records of records systems that wait for a person.
    RecordMatches,
    /// Members that a records system and the practice both changed.
    RecordConflicts,
    /// Hashes of the ids that records systems gave, so that nobody comes back with the next listing.
    ErasedMarks,
    /// What was found on planters in the shed.
    Inspections,
    /// What was mended on planters.
    Repairs,
    /// What the manuals of the planters say.
    WearLimits,
    /// Who did what and when.
    AuditEvents,
    /// What those who follow the practice are told.
    Changes,
}

/// What became of one kind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "kind": "dig_checks",
    "deleted": 0,
    "kept": 4,
    "why": "What the practice has learned rests on the readings; place and notes are gone."
})))]
pub struct ErasedPart {
    /// The kind.
    pub kind: ErasedKind,
    /// How many were deleted as a whole, by this call.
    #[schema(minimum = 0, example = 0)]
    pub deleted: u64,
    /// How many are kept without anything that names or finds the grower.
    #[schema(minimum = 0, example = 4)]
    pub kept: u64,
    /// Why those are kept, or what went.
    #[schema(
        example = "What the practice has learned rests on the readings; place and notes are gone."
    )]
    pub why: String,
}

/// What was erased, and what is kept without a name.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000051",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "erased_at": "2027-04-20T12:00:00Z",
    "erased_by": "01964f1e-6a00-7000-8000-000000000001",
    "reason": "Asked for by letter of 12 April.",
    "parts": [{
        "kind": "dig_checks",
        "deleted": 0,
        "kept": 4,
        "why": "What the practice has learned rests on the readings; place and notes are gone."
    }]
})))]
pub struct Erasure {
    /// Id of the erasure.
    pub id: Uuid,
    /// The grower.
    pub grower_id: Uuid,
    /// When it was done.
    pub erased_at: DateTime<Utc>,
    /// Account of the lead who did it.
    pub erased_by: Uuid,
    /// Why.
    #[schema(example = "Asked for by letter of 12 April.")]
    pub reason: String,
    /// What became of each kind.
    #[schema(max_items = 40)]
    pub parts: Vec<ErasedPart>,
}
