//! The last day for ending a cover crop, on the wire.

use chrono::NaiveDate;
use domain::conditions;
use serde::Serialize;
use utoipa::ToSchema;

use super::words::{TerminationVerdict, TerminationZone};
use crate::v1::trace::{Reason, reasons};

/// When a cover crop has to be ended by the guidelines. Guidance: check the policy, the agent, and
/// the herbicide label; they override.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "zone": "four",
    "latest": "2027-05-15",
    "verdict": "not_known",
    "rule": {
        "text": "guidance, zone 4: end the cover at or within 5 days after planting, and before the crop emerges",
        "mark": "read",
        "mark_words": "read in the source",
        "source": "USDA-NRCS Iowa. USDA releases new cover crop termination guidelines, n.d."
    },
    "watch": []
})))]
pub struct Termination {
    /// The zone that was used; absent on irrigated land, which has none, and where nobody named it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub zone: Option<TerminationZone>,
    /// The last day, where zone and day of planting are known; and before the crop emerges, where
    /// that is earlier.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-15")]
    pub latest: Option<NaiveDate>,
    /// How the end that was reported compares with it.
    pub verdict: TerminationVerdict,
    /// The rule in words.
    pub rule: Reason,
    /// Allowances, and who comes before the guideline.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl From<conditions::Termination> for Termination {
    fn from(it: conditions::Termination) -> Self {
        let conditions::Termination { zone, latest, verdict, rule, watch } = it;
        Self {
            zone: zone.map(Into::into),
            latest,
            verdict: verdict.into(),
            rule: rule.into(),
            watch: reasons(watch),
        }
    }
}
