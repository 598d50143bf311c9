//! What nobody looked at, and what was not used.

use domain::dig::{Ignored, Missing};
use serde::Serialize;
use utoipa::ToSchema;

/// Something that nobody looked at.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = MissingReading, examples(json!({
    "what": "print of the gauge wheels", "would_tell": "whether the load presses the soil"
})))]
pub struct MissingOut {
    /// What was not reported.
    #[schema(example = "print of the gauge wheels")]
    pub what: String,
    /// What it would tell.
    #[schema(example = "whether the load presses the soil")]
    pub would_tell: String,
}

impl MissingOut {
    pub(super) fn of(it: Missing) -> Self {
        let Missing { what, would_tell } = it;
        Self { what: what.into_owned(), would_tell: would_tell.into_owned() }
    }
}

/// Something that was reported but not used.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = IgnoredReading, examples(json!({
    "what": "spread of the spacings", "rows": [],
    "why": "fewer than ten spacings say nothing about a meter"
})))]
pub struct IgnoredOut {
    /// Which reading.
    #[schema(example = "spread of the spacings")]
    pub what: String,
    /// Of which rows; empty means all.
    #[schema(max_items = 64)]
    pub rows: Vec<u16>,
    /// Why.
    #[schema(example = "fewer than ten spacings say nothing about a meter")]
    pub why: String,
}

impl IgnoredOut {
    pub(super) fn of(it: Ignored) -> Self {
        let Ignored { what, rows, why } = it;
        Self { what: what.into_owned(), rows, why: why.into_owned() }
    }
}
