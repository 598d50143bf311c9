//! The table of analysis and what follows from it.

use super::model::Model;
use super::outcome::{Line, ScatterParts, Term, TreatmentMean};
use super::plots::{Known, of_treatment, samples_per_plot, whole};
use super::trial::Trial;
use crate::stats::{count, f_tail, mean, squares, studentized_critical, t_critical};

/// The lines of the table.
pub(super) fn table(trial: &Trial, known: &[Known<'_>], model: Option<&Model<'_>>) -> Vec<Line> {
    let mut lines = model.map(|m| of_plots(trial, m)).unwrap_or_default();
    let (sum, df) = within_plots(known);
    if df > 0 {
        lines.push(line(Term::Samples, sum, df, None));
    }
    lines
}

fn of_plots(trial: &Trial, model: &Model<'_>) -> Vec<Line> {
    let (error, df) = (model.error_squares(), model.error_df());
    let noise = model.error_variance().map(|variance| (variance, df));
    let mut lines = Vec::new();
    if trial.design.blocked() {
        let between = (model.total - model.within_blocks).max(0.0);
        lines.push(line(Term::Blocks, between, model.blocks() - 1, noise));
    }
    let treatments = (model.within_blocks - error).max(0.0);
    lines.push(line(Term::Treatments, treatments, model.treatment_df(), noise));
    lines.push(line(Term::Plots, error, df, None));
    lines.push(line(Term::Total, model.total, model.plots.len() - 1, None));
    lines
}

fn line(term: Term, squares: f64, df: usize, noise: Option<(f64, usize)>) -> Line {
    let mean_square = (df > 0).then(|| squares / count(df));
    let f = match (mean_square, noise) {
        (Some(own), Some((noise, _))) if noise > 0.0 => Some(own / noise),
        _ => None,
    };
    let p = f.zip(noise).and_then(|(f, (_, error_df))| f_tail(f, count(df), count(error_df)));
    Line { term, squares, df: whole(df), mean_square, f, p }
}

/// Sum of squares and degrees of freedom of samples within plots.
fn within_plots(known: &[Known<'_>]) -> (f64, usize) {
    let sum = known.iter().map(|k| squares(k.samples)).sum();
    (sum, known.iter().map(|k| k.samples.len() - 1).sum())
}

/// Where the scatter of plot means comes from.
pub(super) fn components(known: &[Known<'_>], error: Option<f64>) -> Option<ScatterParts> {
    let (sum, df) = within_plots(known);
    let error = error?;
    if df == 0 {
        return None;
    }
    let (samples, per_plot) = (sum / count(df), samples_per_plot(known));
    let moment = error - samples / per_plot;
    Some(ScatterParts {
        plots: moment.max(0.0),
        set_to_zero: moment < 0.0,
        samples,
        samples_df: whole(df),
        per_plot,
    })
}

/// The means of the treatments.
pub(super) fn means(
    trial: &Trial,
    known: &[Known<'_>],
    model: Option<&Model<'_>>,
) -> Vec<TreatmentMean> {
    let error = model.and_then(Model::error_variance).filter(|e| *e > 0.0);
    let t = model.and_then(|m| t_critical(trial.confidence.alpha(), count(m.error_df())));
    let of = |treatment: usize| {
        let values = of_treatment(known, treatment);
        let adjusted = model.and_then(|m| m.mean(treatment));
        let se = adjusted.zip(error).map(|((_, variance), error)| (variance * error).sqrt());
        let half = se.zip(t).map(|(se, t)| se * t);
        let around = |sign: f64| adjusted.zip(half).map(|((mean, _), half)| mean + sign * half);
        TreatmentMean {
            treatment,
            plots: whole(values.len()),
            plain: mean(&values),
            adjusted: adjusted.map(|(mean, _)| mean),
            se,
            low: around(-1.0),
            high: around(1.0),
        }
    };
    (0..trial.treatments.len()).map(of).collect()
}

/// LSD and HSD; where all treatments have equally many plots.
pub(super) fn yardsticks(
    trial: &Trial,
    known: &[Known<'_>],
    model: &Model<'_>,
) -> (Option<f64>, Option<f64>) {
    let mut plots = (0..trial.treatments.len()).map(|t| of_treatment(known, t).len());
    let first = plots.next().unwrap_or(0);
    let balanced = first > 0 && plots.all(|p| p == first) && known.len() == model.plots.len();
    let blocks_whole = !trial.design.blocked() || model.complete();
    let error = model.error_variance().filter(|e| *e > 0.0 && balanced && blocks_whole);
    let Some(error) = error else { return (None, None) };
    let (alpha, df) = (trial.confidence.alpha(), count(model.error_df()));
    let se = (error / count(first)).sqrt();
    let least = t_critical(alpha, df).map(|t| t * se * std::f64::consts::SQRT_2);
    let k = whole(trial.treatments.len());
    let honest = if k > 2 { studentized_critical(alpha, k, df).map(|q| q * se) } else { None };
    (least, honest)
}

/// How many times the replications one would need without the blocks.
pub(super) fn relative_efficiency(trial: &Trial, model: &Model<'_>) -> Option<f64> {
    let error = model.error_variance().filter(|e| *e > 0.0)?;
    if !(trial.design.blocked() && model.complete()) || model.blocks() < 2 {
        return None;
    }
    let (blocks, treatments) = (count(model.blocks()), count(trial.treatments.len()));
    let between = model.total - model.within_blocks;
    let without = between + blocks * (treatments - 1.0) * error;
    Some(without / (blocks * treatments - 1.0) / error)
}
