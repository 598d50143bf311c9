//! What goes over the wire.

use domain::dig::Rule;
use serde::Serialize;
use utoipa::ToSchema;

use crate::v1::dig_checks::{DigCause, FindingClass};
use crate::v1::trace::Mark;

/// A rule: what is seen, what it means, what to look at first, what to change, by how much.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "cause": "hairpin", "class": "mechanical",
    "when": "residue is tucked into the furrow",
    "reading": "residue was bent, not cut: blunt or parted discs, damp residue, or too shallow; not force first",
    "check": "disc edge and touch; does the residue snap",
    "change": "sharpen or replace, wait until it is dry, or lift the coulter in living cover",
    "size": "all rows",
    "mark": "read", "mark_words": "read in the source",
    "source": "University of Nebraska Extension, as reported in the farm press, n.d. Make the right moves to boost no-till planter, drill performance"
})))]
pub struct DigRule {
    /// What may be wrong.
    pub cause: DigCause,
    /// Where it stands in the order.
    pub class: FindingClass,
    /// The condition: what is seen.
    #[schema(example = "residue is tucked into the furrow")]
    pub when: String,
    /// What it means.
    #[schema(example = "residue was bent, not cut")]
    pub reading: String,
    /// What to look at first.
    #[schema(example = "disc edge and touch; does the residue snap")]
    pub check: String,
    /// What to change if the check confirms it.
    #[schema(example = "sharpen or replace")]
    pub change: String,
    /// How much, or on which rows.
    #[schema(example = "all rows")]
    pub size: String,
    /// How the rule is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "read in the source")]
    pub mark_words: String,
    /// Where the rule stands, or that it is common practice without a source.
    #[schema(example = "common practice, no source")]
    pub source: String,
}

impl From<&Rule> for DigRule {
    fn from(rule: &Rule) -> Self {
        let text = |words: &str| words.to_owned();
        Self {
            cause: rule.cause.into(),
            class: rule.class.into(),
            when: text(rule.when),
            reading: text(rule.reading),
            check: text(rule.check),
            change: text(rule.change),
            size: text(rule.size),
            mark: rule.mark.into(),
            mark_words: text(rule.mark.words()),
            source: text(rule.source),
        }
    }
}

/// The rules by which digs are judged.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "cause": "bar_too_high", "class": "mechanical",
    "when": "the arms slope down to the rear by an inch of bar height or more",
    "reading": "the pull of the row lifts the unit",
    "check": "bar height, planter down, no down force",
    "change": "level the arms", "size": "to level",
    "mark": "derived", "mark_words": "derived", "source": "statics"
}]})))]
pub struct DigRuleList {
    /// The rules, in the order in which causes are dealt with.
    #[schema(max_items = 100)]
    pub items: Vec<DigRule>,
}
