//! The steps of the analysis of a trial.

use domain::provenance::{Input, Source};
use domain::trial::analysis::{Analysis, Line, Term};

use crate::http::quantity::six_digits;
use crate::v1::trace::TraceStep;
use crate::v1::what_if::step::Known;

const LEAST_SQUARES: Source =
    "definition: least squares, plot mean = block + treatment + error; plots are the replications";
const LIMITS: Source = "definition: Student's t; Dunnett 1955, JASA 50:1096-1121; Tukey and Kramer, NIST engineering statistics handbook 7.4.7.1";

const RATIO: Known =
    Known::derived("ratio of treatments to error", "MS_treatments / MS_plots", LEAST_SQUARES);
const ERROR: Known =
    Known::derived("standard deviation from plot to plot", "sqrt(MS_plots)", LEAST_SQUARES);
const HALF: Known = Known::derived(
    "half the width of the range of the first effect",
    "critical value x standard error",
    LIMITS,
);
const FIRST: Known = Known::derived(
    "the first effect",
    "adjusted mean - adjusted mean it is held against",
    LEAST_SQUARES,
);

/// All steps that can be told, in order.
pub(super) fn steps(found: &Analysis) -> Vec<TraceStep> {
    let given = |symbol, value: f64| Input::new(symbol, six_digits(value), "1");
    let mut steps = Vec::new();
    if let Some(effect) = found.effects.first() {
        let mean = |t: usize| {
            let of = found.means.iter().find(|m| m.treatment == t);
            of.and_then(|m| m.adjusted.or(m.plain)).unwrap_or(0.0)
        };
        let inputs = vec![
            given("adjusted mean", mean(effect.treatment)),
            given("mean it is held against", mean(effect.against)),
        ];
        steps.push(FIRST.gives(inputs, six_digits(effect.difference), "1"));
    }
    let square =
        |term| found.table.iter().find(|l| l.term == term).and_then(|l: &Line| l.mean_square);
    if let (Some(error), Some(sd)) = (square(Term::Plots), found.residual_sd) {
        steps.push(ERROR.gives(vec![given("MS_plots", error)], six_digits(sd), "1"));
        let line = found.table.iter().find(|l| l.term == Term::Treatments);
        if let (Some(own), Some(f)) = (square(Term::Treatments), line.and_then(|l| l.f)) {
            let inputs = vec![given("MS_treatments", own), given("MS_plots", error)];
            steps.push(RATIO.gives(inputs, six_digits(f), "1"));
        }
    }
    if let Some((se, low, high)) =
        found.effects.first().and_then(|e| Some((e.se?, e.low?, e.high?)))
    {
        let half = (high - low) / 2.0;
        let inputs = vec![given("critical value", half / se), given("standard error", se)];
        steps.push(HALF.gives(inputs, six_digits(half), "1"));
    }
    steps
}
