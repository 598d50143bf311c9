//! The trace of a result: each step that a reader can follow by hand.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::mark::Mark;

/// Text that is nearly always a constant of the program.
pub type Text = Cow<'static, str>;

/// One symbol that went into a step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Input {
    /// The symbol in the formula.
    pub symbol: Text,
    /// Its value in `unit`.
    pub value: f64,
    /// UCUM code, `1` for a plain number.
    pub unit: Text,
}

impl Input {
    /// A symbol with its value and unit. A negative zero becomes a plain one: no reader means it,
    /// and not every database keeps it.
    pub const fn new(symbol: &'static str, value: f64, unit: &'static str) -> Self {
        Self { symbol: Cow::Borrowed(symbol), value: value + 0.0, unit: Cow::Borrowed(unit) }
    }
}

/// One step of a calculation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// What the step works out, in the words of the trade.
    pub step: Text,
    /// The formula, in the symbols of `inputs`.
    pub formula: Text,
    /// What went in.
    pub inputs: Vec<Input>,
    /// What came out, in `unit`.
    pub value: f64,
    /// UCUM code of the value and its range.
    pub unit: Text,
    /// Low end of what is likely, where the inputs have ranges.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub low: Option<f64>,
    /// High end of what is likely.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub high: Option<f64>,
    /// The source of the formula or of its weakest coefficient.
    pub source: Text,
    /// The weakest mark among formula and coefficients.
    pub mark: Mark,
}

/// A default that stood in for an observation nobody made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Assumed {
    /// What was assumed, in words.
    pub what: Text,
    /// The value used, as people write it: `350 N`, `moist`.
    pub used: Text,
    /// The range that it stands for, as people write it, where there is one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub range: Option<Text>,
    /// What to measure or report so that it need not be assumed.
    pub instead: Text,
    /// How the default is known.
    pub mark: Mark,
    /// Where the default stands.
    pub source: Text,
}

/// The steps of a result, in order.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Trace {
    /// The steps.
    pub steps: Vec<Step>,
}

impl Trace {
    /// Adds a step.
    pub fn push(&mut self, step: Step) {
        self.steps.push(step);
    }

    /// Finds a step by its name.
    pub fn find(&self, name: &str) -> Option<&Step> {
        self.steps.iter().find(|s| s.step == name)
    }
}
