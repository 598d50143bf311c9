//! Steps of calculations whose formula is a single line.

use std::future::ready;

use domain::provenance::{Coefficient, Input, Mark, Source, Step, Text};
use serde::Serialize;

use crate::http::{Answer, ApiError};
use crate::v1::trace::TraceStep;

/// What a step works out, by which formula, and how that is known.
#[derive(Clone, Copy)]
pub(super) struct Known {
    pub step: &'static str,
    pub formula: &'static str,
    pub source: Source,
    pub mark: Mark,
}

impl Known {
    /// From textbook statics, mechanics, geometry or a definition.
    pub(super) const fn derived(step: &'static str, formula: &'static str, source: Source) -> Self {
        Self { step, formula, source, mark: Mark::Derived }
    }

    /// The step with its numbers.
    pub(super) fn gives(self, inputs: Vec<Input>, value: f64, unit: &'static str) -> TraceStep {
        TraceStep::from(Step {
            step: Text::Borrowed(self.step),
            formula: Text::Borrowed(self.formula),
            inputs,
            value,
            unit: Text::Borrowed(unit),
            low: None,
            high: None,
            source: Text::Borrowed(self.source),
            mark: self.mark,
        })
    }

    /// The step with its numbers, known as well as the coefficient it rests on.
    pub(super) fn gives_by(
        self,
        k: &Coefficient,
        inputs: Vec<Input>,
        value: f64,
        unit: &'static str,
    ) -> TraceStep {
        let mark = k.mark;
        let made = self.gives(inputs, value, unit);
        TraceStep {
            source: k.source.clone().into_owned(),
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
            ..made
        }
    }
}

/// The answer of a calculation.
pub(super) async fn answer<T: Serialize>(
    worked_out: Result<T, ApiError>,
) -> Result<Answer<T>, ApiError> {
    ready(worked_out.map(Answer::ok)).await
}
