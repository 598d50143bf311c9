//! What was advised, and what digs changed.

use domain::season::report::{Adjustments, Advice, CauseCount};
use serde::Serialize;
use utoipa::ToSchema;

use super::FieldShare;
use crate::v1::dig_checks::DigCause;

/// What was advised, seen, applied and dug. A recommendation counts once, whatever its revisions.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "issued": 60, "revisions": 93,
    "seen": {"count": 57, "of": 60, "share": 0.95, "low": 0.863, "high": 0.983},
    "applied": {"count": 51, "of": 60, "share": 0.85, "low": 0.739, "high": 0.919},
    "dug": {"count": 48, "of": 60, "share": 0.8, "low": 0.682, "high": 0.882}
})))]
pub struct SeasonAdvice {
    /// Recommendations of which a revision was issued in the season.
    #[schema(example = 60)]
    pub issued: u32,
    /// Revisions that were issued.
    #[schema(example = 93)]
    pub revisions: u32,
    /// Recommendations of which somebody confirmed to have seen a revision.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seen: Option<FieldShare>,
    /// Recommendations that were applied: a planting was reported, or somebody dug.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub applied: Option<FieldShare>,
    /// Recommendations behind which somebody dug.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub dug: Option<FieldShare>,
}

impl From<Advice> for SeasonAdvice {
    fn from(it: Advice) -> Self {
        let Advice { issued, revisions, seen, applied, dug } = it;
        Self {
            issued,
            revisions,
            seen: seen.map(Into::into),
            applied: applied.map(Into::into),
            dug: dug.map(Into::into),
        }
    }
}

/// How often digs proposed to deal with a cause.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"cause": "hairpin", "proposed": 9, "accepted": 7, "declined": 1})))]
pub struct AdjustmentCause {
    /// The cause; absent where no sign asked for the change, but all digs together.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cause: Option<DigCause>,
    /// Proposed.
    #[schema(example = 9)]
    pub proposed: u32,
    /// Accepted.
    #[schema(example = 7)]
    pub accepted: u32,
    /// Declined.
    #[schema(example = 1)]
    pub declined: u32,
}

impl From<CauseCount> for AdjustmentCause {
    fn from(it: CauseCount) -> Self {
        let CauseCount { cause, proposed, accepted, declined } = it;
        Self { cause: cause.map(Into::into), proposed, accepted, declined }
    }
}

/// What digs proposed to change, and why.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "proposed": 40, "accepted": 33, "declined": 4, "open": 3,
    "causes": [{"cause": "hairpin", "proposed": 9, "accepted": 7, "declined": 1}]
})))]
pub struct SeasonAdjustments {
    /// Proposed.
    #[schema(example = 40)]
    pub proposed: u32,
    /// Accepted.
    #[schema(example = 33)]
    pub accepted: u32,
    /// Declined.
    #[schema(example = 4)]
    pub declined: u32,
    /// Not decided yet.
    #[schema(example = 3)]
    pub open: u32,
    /// By cause, the most frequent first.
    #[schema(max_items = 40)]
    pub causes: Vec<AdjustmentCause>,
}

impl From<Adjustments> for SeasonAdjustments {
    fn from(it: Adjustments) -> Self {
        let Adjustments { proposed, accepted, declined, open, causes } = it;
        let causes = causes.into_iter().map(Into::into).collect();
        Self { proposed, accepted, declined, open, causes }
    }
}
