//! Counted pests against published thresholds, on the wire.

use domain::conditions;
use serde::Serialize;
use utoipa::ToSchema;

use super::words::{Pest, PestLevel};
use crate::v1::trace::Reason;

/// One pest that was counted.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "pest": "slugs",
    "level": "below",
    "reason": {
        "text": "1.5 slugs a plant: 5 or more at the spike stage are economic in Virginia; cool, wet weather helps them, heat and dryness end it",
        "mark": "read",
        "mark_words": "read in the source",
        "source": "Virginia Cooperative Extension. Pest advisory (slugs), n.d."
    }
})))]
pub struct PestFinding {
    /// The pest.
    pub pest: Pest,
    /// Where the count stands.
    pub level: PestLevel,
    /// The count against the threshold, and where that holds.
    pub reason: Reason,
}

/// The findings, the most pressing first.
pub fn findings(list: Vec<conditions::PestFinding>) -> Vec<PestFinding> {
    let finding = |it: conditions::PestFinding| PestFinding {
        pest: it.pest.into(),
        level: it.level.into(),
        reason: it.reason.into(),
    };
    list.into_iter().map(finding).collect()
}
