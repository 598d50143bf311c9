//! Analysis of a trial: how large effects are, how sure that is, and what can't be concluded.
//!
//! Plots are the replications. Digs, counts and rows within a plot are averaged first, so no number
//! of them makes a trial of one strip into a trial. Without replication there is no p-value.
//!
//! ```
//! use domain::trial::analysis::*;
//!
//! let plot = |treatment, block, value| Plot { treatment, block, values: vec![value] };
//! let trial = Trial {
//!     design: DesignKind::Paired,
//!     treatments: vec!["smooth wheels".into(), "spiked wheels".into()],
//!     control: Some(0),
//!     plots: vec![
//!         plot(0, 0, 88.0), plot(1, 0, 91.0),
//!         plot(0, 1, 86.0), plot(1, 1, 90.0),
//!         plot(0, 2, 90.0), plot(1, 2, 92.0),
//!         plot(0, 3, 87.0), plot(1, 3, 90.0),
//!     ],
//!     randomised: true,
//!     confidence: Confidence::NinetyFive,
//!     response: Response {
//!         what: "emergence".into(),
//!         unit: "%".into(),
//!         better: Better::Higher,
//!         scale: Scale::Percent,
//!     },
//!     matters: Some(1.0),
//! };
//! let found = analyse(&trial).unwrap();
//! assert!((found.effects[0].difference - 3.0).abs() < 1e-9);
//! assert_eq!(found.verdict.outcome, Reading::Matters);
//! ```

mod checks;
mod differences;
mod effects;
mod loadings;
mod model;
mod outcome;
mod plots;
mod say;
mod split_plot;
mod table;
mod trial;
mod verdict;

pub use checks::{Check, CheckKind, CheckResult};
pub use outcome::{
    Analysis, Comparison, Effect, Exact, Line, Pairs, Reading, RestsOn, ScatterParts, Term,
    TreatmentMean,
};
pub use split_plot::{
    PartPlot, SplitComparison, SplitDifference, SplitLine, SplitPlot, SplitPlotAnalysis, SplitTerm,
    split_plot,
};
pub use trial::{Better, Confidence, DesignKind, Plot, Response, Scale, Trial, TrialError};
pub use verdict::Verdict;

use std::collections::BTreeSet;

use self::model::Model;
use self::plots::{Known, known, unequal_samples, whole};
use self::say::Numbers;
use self::verdict::Case;
use crate::stats::mean;

/// Analyses a trial.
///
/// # Errors
/// When the plots contradict themselves.
pub fn analyse(trial: &Trial) -> Result<Analysis, TrialError> {
    let known = known(trial)?;
    let model = Model::of(&known, trial.treatments.len());
    let model = model.as_ref();
    let error = model.and_then(Model::error_variance);
    let rests_on = rests_on(trial, &known, model);
    let means = table::means(trial, &known, model);
    let comparison = effects::comparison(trial);
    let effects = effects::effects(trial, &known, model);
    let differences = match (effects::pairs(trial).as_slice(), model) {
        ([pair], Some(model)) if trial.design.blocked() => {
            Some(differences::differences(model, *pair)).filter(|d| !d.is_empty())
        }
        _ => None,
    };
    let pairs = differences.as_deref().map(differences::pairs);
    let checks = checks::checks(trial, &known, model, differences.as_deref());
    let residual_sd = error.map(f64::sqrt);
    let case = Case {
        trial,
        rests_on,
        means: &means,
        comparison,
        effects: &effects,
        residual_sd,
        pairs: pairs.as_ref(),
        checks: &checks,
        numbers: Numbers::of(&trial.response, step(&effects, &means)),
    };
    let verdict = case.verdict();
    let (least_difference, honest_difference) =
        model.map_or((None, None), |m| table::yardsticks(trial, &known, m));
    Ok(Analysis {
        design: trial.design,
        confidence: trial.confidence,
        rests_on,
        table: table::table(trial, &known, model),
        residual_sd,
        cv_percent: residual_sd.and_then(|sd| in_percent(sd, &known)),
        comparison,
        least_difference,
        honest_difference,
        relative_efficiency: model.and_then(|m| table::relative_efficiency(trial, m)),
        components: table::components(&known, error),
        means,
        effects,
        pairs,
        checks,
        verdict,
    })
}

fn rests_on(trial: &Trial, known: &[Known<'_>], model: Option<&Model<'_>>) -> RestsOn {
    let blocks = trial.plots.iter().map(|p| p.block).collect::<BTreeSet<_>>().len();
    let planned =
        if trial.design.blocked() { blocks * trial.treatments.len() } else { trial.plots.len() };
    let blocks = if trial.design.blocked() { model.map_or(0, Model::blocks) } else { 0 };
    RestsOn {
        plots: whole(known.len()),
        missing: whole(planned.saturating_sub(known.len())),
        blocks: whole(blocks),
        values: whole(known.iter().map(|k| k.samples.len()).sum()),
        error_df: whole(model.map_or(0, Model::error_df)),
        unequal_samples: unequal_samples(known),
        connected: model.is_some_and(Model::connected),
    }
}

fn in_percent(sd: f64, known: &[Known<'_>]) -> Option<f64> {
    let centre = mean(&known.iter().map(|k| k.value).collect::<Vec<f64>>())?;
    let percent = 100.0 * sd / centre;
    (centre > 0.0 && percent.is_finite()).then_some(percent)
}

/// How far numbers are unsure: half the narrowest range, else a share of what was measured.
fn step(effects: &[Effect], means: &[TreatmentMean]) -> f64 {
    let halves = effects.iter().filter_map(|e| Some((e.high? - e.low?) / 2.0));
    let half = halves.fold(f64::INFINITY, f64::min);
    if half.is_finite() && half > 0.0 {
        return half;
    }
    let size = means.iter().filter_map(|m| m.plain).fold(0.0_f64, |m, v| m.max(v.abs()));
    size / 10.0
}
