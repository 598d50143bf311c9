//! A cause that the readings point to.

use domain::dig::Finding;
use domain::provenance::Text;
use serde::Serialize;
use utoipa::ToSchema;

use crate::v1::dig_checks::words::{DigCause, FindingClass, FindingStrength};
use crate::v1::trace::Mark;

/// A cause that the readings point to, with what speaks for it and against it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = Finding, examples(json!({
    "cause": "too_little_force", "class": "setting", "strength": "strong", "rows": [],
    "reading": "the opener carries the unit: more resistance than weight",
    "check": "cleaner, bar height and frame first",
    "change": "more down force",
    "evidence_for": ["the gauge wheels spin free on 4 of 4 rows", "seed lies shallow"],
    "evidence_against": [],
    "mark": "derived", "mark_words": "derived", "source": "statics"
})))]
pub struct FindingOut {
    /// What may be wrong.
    pub cause: DigCause,
    /// Where it stands in the order.
    pub class: FindingClass,
    /// How well the readings carry it.
    pub strength: FindingStrength,
    /// Rows that it concerns; empty means the whole planter.
    #[schema(max_items = 64)]
    pub rows: Vec<u16>,
    /// What the signs mean.
    #[schema(example = "the opener carries the unit: more resistance than weight")]
    pub reading: String,
    /// What to look at first.
    #[schema(example = "cleaner, bar height and frame first")]
    pub check: String,
    /// What to change if the check confirms it.
    #[schema(example = "more down force")]
    pub change: String,
    /// Readings that speak for it.
    #[schema(max_items = 20, example = json!(["seed lies shallow"]))]
    pub evidence_for: Vec<String>,
    /// Readings that speak against it.
    #[schema(max_items = 20, example = json!([]))]
    pub evidence_against: Vec<String>,
    /// How the rule is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "derived")]
    pub mark_words: String,
    /// Where the rule stands.
    #[schema(example = "statics")]
    pub source: String,
}

impl FindingOut {
    pub(super) fn of(it: Finding) -> Self {
        let Finding {
            cause,
            class,
            strength,
            rows,
            reading,
            check,
            change,
            evidence_for,
            evidence_against,
            mark,
            source,
        } = it;
        Self {
            cause: cause.into(),
            class: class.into(),
            strength: strength.into(),
            rows,
            reading: reading.into_owned(),
            check: check.into_owned(),
            change: change.into_owned(),
            evidence_for: owned(evidence_for),
            evidence_against: owned(evidence_against),
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
            source: source.into_owned(),
        }
    }
}

/// Sentences, in order.
pub(super) fn owned(texts: Vec<Text>) -> Vec<String> {
    texts.into_iter().map(Text::into_owned).collect()
}
