//! How a result came about, on the wire: steps, reasons, and what was assumed.

use domain::provenance::{self, Trace};
use serde::Serialize;
use utoipa::ToSchema;

use super::mirror::mirror;
use crate::http::quantity::six_digits;

mirror! {
    /// How far a number can be trusted: `measured` here, `learned` from digs, `read` in the source,
    /// `derived` from read figures or statics, the practice's `own` figure, `common_practice` without
    /// source, `from_memory` and to be confirmed, `proposal` of this project, or plain `assumption`.
    Mark = provenance::Mark {
        Measured Learned Read Derived Own CommonPractice FromMemory Proposal Assumption
    }
}

/// One step of a calculation, to be followed by hand.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "step": "arm force", "formula": "-H tan(theta)",
    "inputs": [
        {"symbol": "H", "value": 1000, "unit": "N"},
        {"symbol": "theta", "value": 10, "unit": "deg"}
    ],
    "value": -176.327, "unit": "N", "source": "statics",
    "mark": "derived", "mark_words": "derived"
})))]
pub struct TraceStep {
    /// What the step works out.
    #[schema(example = "arm force")]
    pub step: String,
    /// The formula, in the symbols of `inputs`.
    #[schema(example = "-H tan(theta)")]
    pub formula: String,
    /// What went in.
    #[schema(max_items = 1000)]
    pub inputs: Vec<TraceInput>,
    /// What came out, in `unit`.
    #[schema(example = -176.327)]
    pub value: f64,
    /// UCUM code, `1` for a plain number. A step is shown in the units of its formula.
    #[schema(example = "N")]
    pub unit: String,
    /// Low end of what is likely, where the inputs have ranges.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = -200)]
    pub low: Option<f64>,
    /// High end of what is likely.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = -150)]
    pub high: Option<f64>,
    /// Source of the formula or of its weakest coefficient.
    #[schema(example = "statics")]
    pub source: String,
    /// The weakest mark among formula and coefficients.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "derived")]
    pub mark_words: String,
}

/// One symbol of a formula.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({"symbol": "H", "value": 1000, "unit": "N"})))]
pub struct TraceInput {
    /// The symbol.
    #[schema(example = "H")]
    pub symbol: String,
    /// Its value, in `unit`.
    #[schema(example = 1000)]
    pub value: f64,
    /// UCUM code, `1` for a plain number.
    #[schema(example = "N")]
    pub unit: String,
}

/// A sentence that speaks for a choice, or warns.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "text": "a ribbon of 4.0 in is longer than 3 in: too wet",
    "mark": "read", "mark_words": "read in the source",
    "source": "Penn State Extension 2018, in a county council note. To prevent sidewall compaction"
})))]
pub struct Reason {
    /// The sentence, with units.
    #[schema(example = "a ribbon of 4.0 in is longer than 3 in: too wet")]
    pub text: String,
    /// How it is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "read in the source")]
    pub mark_words: String,
    /// Where it stands.
    #[schema(example = "common practice, no source")]
    pub source: String,
}

/// A default that stood in for an observation nobody made.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "what": "height of the cover crop", "used": "12 in", "range": "4 to 36 in",
    "instead": "measure the height at three places",
    "mark": "assumption", "mark_words": "assumption",
    "source": "assumption, no independent source"
})))]
pub struct Assumed {
    /// What was assumed.
    #[schema(example = "height of the cover crop")]
    pub what: String,
    /// The value used, as people write it.
    #[schema(example = "12 in")]
    pub used: String,
    /// The range that it stands for, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "4 to 36 in")]
    pub range: Option<String>,
    /// What to measure or report so that it need not be assumed.
    #[schema(example = "measure the height at three places")]
    pub instead: String,
    /// How the default is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "assumption")]
    pub mark_words: String,
    /// Where the default stands.
    #[schema(example = "assumption, no independent source")]
    pub source: String,
}

impl From<provenance::Step> for TraceStep {
    fn from(step: provenance::Step) -> Self {
        let provenance::Step { step, formula, inputs, value, unit, low, high, source, mark } = step;
        Self {
            step: step.into_owned(),
            formula: formula.into_owned(),
            inputs: inputs.into_iter().map(TraceInput::from).collect(),
            value: six_digits(value),
            unit: unit.into_owned(),
            low: low.map(six_digits),
            high: high.map(six_digits),
            source: source.into_owned(),
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
        }
    }
}

impl From<provenance::Input> for TraceInput {
    fn from(input: provenance::Input) -> Self {
        let provenance::Input { symbol, value, unit } = input;
        Self { symbol: symbol.into_owned(), value: six_digits(value), unit: unit.into_owned() }
    }
}

impl From<provenance::Reason> for Reason {
    fn from(reason: provenance::Reason) -> Self {
        let provenance::Reason { text, mark, source } = reason;
        Self {
            text: text.into_owned(),
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
            source: source.into_owned(),
        }
    }
}

impl From<provenance::Assumed> for Assumed {
    fn from(assumed: provenance::Assumed) -> Self {
        let provenance::Assumed { what, used, range, instead, mark, source } = assumed;
        Self {
            what: what.into_owned(),
            used: used.into_owned(),
            range: range.map(std::borrow::Cow::into_owned),
            instead: instead.into_owned(),
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
            source: source.into_owned(),
        }
    }
}

/// The steps of a trace.
pub fn steps_of(trace: Trace) -> Vec<TraceStep> {
    steps(trace.steps)
}

/// Steps, in order.
pub fn steps(steps: Vec<provenance::Step>) -> Vec<TraceStep> {
    steps.into_iter().map(TraceStep::from).collect()
}

/// Reasons, in order.
pub fn reasons(reasons: Vec<provenance::Reason>) -> Vec<Reason> {
    reasons.into_iter().map(Reason::from).collect()
}

/// What was assumed, in order.
pub fn assumed(list: Vec<provenance::Assumed>) -> Vec<Assumed> {
    list.into_iter().map(Assumed::from).collect()
}
