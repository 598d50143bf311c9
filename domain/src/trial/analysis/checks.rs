//! Whether what an analysis takes for granted holds, as far as so few plots can tell.

use serde::{Deserialize, Serialize};

use super::model::Model;
use super::plots::Known;
use super::say::{capital, counted, place};
use super::trial::{Scale, Trial};
use crate::stats::{
    Tested, bartlett, brown_forsythe, cochran, count, f_tail, grubbs, sd, shapiro_wilk, t_p_value,
};

/// Below this chance a check raises doubt.
const DOUBT: f64 = 0.05;
/// With fewer values than this a check that finds nothing says nothing.
const ENOUGH: usize = 8;

/// One check.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Check {
    /// What was checked.
    pub kind: CheckKind,
    /// How it came out.
    pub result: CheckResult,
    /// The statistic of the test.
    pub statistic: Option<f64>,
    /// The chance of it when all is well.
    pub p: Option<f64>,
    /// The same in words.
    pub words: String,
}

/// What can be checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CheckKind {
    /// Whether what is left over is spread as a bell (Shapiro and Wilk).
    Bell,
    /// Whether one plot, or one pair, stands apart from all others (Grubbs; studentised residual).
    OneApart,
    /// Whether treatments scatter alike (Brown and Forsythe).
    SameScatter,
    /// Whether treatments differ alike in good and in poor blocks (Tukey, one degree of freedom).
    SameInAllBlocks,
    /// Whether samples scatter alike in all plots (Cochran's C; Bartlett when plots were sampled
    /// unequally often).
    SamplesScatterAlike,
    /// Whether shares lie at 0 or 100 %, where they have no room to differ.
    AtTheEnds,
}

/// How a check came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CheckResult {
    /// Nothing speaks against it.
    Fine,
    /// Something speaks against it.
    Doubtful,
    /// Too few plots to tell.
    CantTell,
}

/// All checks that apply.
pub(super) fn checks(
    trial: &Trial,
    known: &[Known<'_>],
    model: Option<&Model<'_>>,
    differences: Option<&[(usize, f64)]>,
) -> Vec<Check> {
    let varying = model.filter(|m| m.error_variance().is_some_and(|v| v > 0.0));
    let mut found = Vec::new();
    if let Some(model) = varying {
        match differences {
            Some(differences) => of_pairs(trial, differences, &mut found),
            None => of_residuals(trial, model, &mut found),
        }
        if trial.design.blocked() {
            found.extend(same_in_all_blocks(model));
        }
    }
    found.extend(samples_alike(trial, known));
    found.extend(at_the_ends(trial, known));
    found
}

fn of_pairs(trial: &Trial, differences: &[(usize, f64)], found: &mut Vec<Check>) {
    let values: Vec<f64> = differences.iter().map(|(_, d)| *d).collect();
    found.push(bell(shapiro_wilk(&values), values.len(), "differences"));
    let apart = grubbs(&values);
    let where_to = apart
        .and_then(|far| differences.get(far.place))
        .map(|(block, _)| format!("{} {}", place(trial.design), block + 1));
    let tested = apart.map(|far| Tested { statistic: far.g, p: far.p });
    found.push(one_apart(tested, where_to, values.len()));
}

fn of_residuals(trial: &Trial, model: &Model<'_>, found: &mut Vec<Check>) {
    let left = model.residuals();
    found.push(bell(shapiro_wilk(left), left.len(), "plots"));
    let far = farthest(model);
    let where_to = far.and_then(|(at, _)| model.plots.get(at)).map(|plot| name(trial, *plot));
    found.push(one_apart(far.map(|(_, tested)| tested), where_to, left.len()));
    let groups: Vec<Vec<f64>> = (0..trial.treatments.len())
        .map(|t| {
            let own = model.plots.iter().zip(left).filter(|(p, _)| p.treatment == t);
            own.map(|(_, r)| *r).collect()
        })
        .filter(|g: &Vec<f64>| g.len() > 2)
        .collect();
    let few = groups.iter().map(Vec::len).min().unwrap_or(0) < 5;
    found.push(judged(CheckKind::SameScatter, brown_forsythe(&groups), few, [
        "Treatments scatter about alike.",
        "Some treatments scatter more than others: ranges are too narrow for those and too wide for the rest.",
        "Too few plots to tell whether treatments scatter alike.",
    ]));
}

/// The plot farthest from what the model says, with the plot itself left out: with plain means that is
/// Grubbs' test.
fn farthest(model: &Model<'_>) -> Option<(usize, Tested)> {
    let df = count(model.error_df()) - 1.0;
    let variance = model.error_variance()?;
    if df < 1.0 {
        return None;
    }
    let leverages = model.leverages();
    let away = |(residual, leverage): (&f64, &f64)| {
        let r2 = residual * residual / (variance * (1.0 - leverage).max(1e-9));
        let left = (df + 1.0 - r2).max(1e-9);
        (r2 * df / left).sqrt()
    };
    let all = model.residuals().iter().zip(&leverages).map(away).enumerate();
    let (at, t) = all.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let p = (count(model.plots.len()) * t_p_value(t, df)?).min(1.0);
    Some((at, Tested { statistic: t, p }))
}

fn bell(tested: Option<Tested>, values: usize, what: &str) -> Check {
    judged(
        CheckKind::Bell,
        tested,
        values < ENOUGH,
        [
            &format!("The {what} are spread about as a bell, as the ranges take for granted."),
            &format!("The {what} are not spread as a bell: with few of them the ranges are rough."),
            &format!(
                "Too few {what} to tell whether they are spread as a bell; the ranges take it for granted."
            ),
        ],
    )
}

fn one_apart(tested: Option<Tested>, where_to: Option<String>, values: usize) -> Check {
    let name = where_to.unwrap_or_default();
    judged(
        CheckKind::OneApart,
        tested,
        values < 4,
        [
            "No plot stands apart from all others.",
            &format!(
                "{} stands apart from all others. Look for a slip of the pen or a wet spot; leave it out only with a reason.",
                capital(&name)
            ),
            "Too few plots to tell whether one stands apart.",
        ],
    )
}

/// Tukey's one degree of freedom: whether what is left follows the product of block and treatment.
fn same_in_all_blocks(model: &Model<'_>) -> Option<Check> {
    let df = count(model.error_df()) - 1.0;
    if !model.complete() || df < 1.0 {
        return None;
    }
    let products = model.parts().into_iter().map(|(block, treatment)| block * treatment);
    let (mut along, mut size) = (0.0, 0.0);
    for (product, left) in products.zip(model.residuals()) {
        along += product * left;
        size += product * product;
    }
    let own = along * along / size;
    let rest = model.error_squares() - own;
    let f = own / rest * df;
    let sound = size > 0.0 && rest > 1e-12 * model.error_squares() && f.is_finite();
    let tested = sound.then(|| f_tail(f, 1.0, df).map(|p| Tested { statistic: f, p })).flatten();
    Some(judged(
        CheckKind::SameInAllBlocks,
        tested,
        df < 4.0,
        [
            "Treatments differ about alike in good and in poor blocks.",
            "Treatments differ more in some blocks than in others: the mean effect hides that.",
            "Too few blocks to tell whether treatments differ alike in good and in poor ones.",
        ],
    ))
}

fn samples_alike(trial: &Trial, known: &[Known<'_>]) -> Option<Check> {
    let sampled: Vec<Known<'_>> = known.iter().copied().filter(|k| k.samples.len() > 1).collect();
    let first = *sampled.first()?;
    if sampled.len() < 2 {
        return None;
    }
    let alike = sampled.iter().all(|k| k.samples.len() == first.samples.len());
    let (tested, at) = if alike {
        let variances: Vec<f64> =
            sampled.iter().filter_map(|k| sd(k.samples)).map(|s| s * s).collect();
        let found = cochran(&variances, count(first.samples.len()));
        (found.map(|(_, tested)| tested), found.and_then(|(at, _)| sampled.get(at)))
    } else {
        let groups: Vec<Vec<f64>> = sampled.iter().map(|k| k.samples.to_vec()).collect();
        (bartlett(&groups), None)
    };
    let most = at.map(|k| format!(" Most in {}.", name(trial, *k))).unwrap_or_default();
    Some(judged(
        CheckKind::SamplesScatterAlike,
        tested,
        false,
        [
            "Samples scatter about alike in all plots.",
            &format!(
                "Samples scatter more in some plots than in others.{most} Plot means count alike all the same."
            ),
            "Samples do not vary enough to compare their scatter.",
        ],
    ))
}

fn at_the_ends(trial: &Trial, known: &[Known<'_>]) -> Option<Check> {
    if trial.response.scale != Scale::Percent {
        return None;
    }
    let ends = known.iter().filter(|k| k.value <= 0.0 || k.value >= 100.0).count();
    let words = if ends == 0 {
        "No plot lies at 0 or 100 %.".to_owned()
    } else {
        let plots = counted(ends, "plot");
        format!(
            "{plots} of {} at 0 or 100 %, where there is no room to differ: ranges there are rough.",
            known.len()
        )
    };
    let result = if ends == 0 { CheckResult::Fine } else { CheckResult::Doubtful };
    let kind = CheckKind::AtTheEnds;
    Some(Check { kind, result, statistic: Some(count(ends)), p: None, words })
}

/// A test with its words: fine, doubtful, can't tell.
fn judged(kind: CheckKind, tested: Option<Tested>, few: bool, words: [&str; 3]) -> Check {
    let [fine, doubtful, cant_tell] = words;
    let (result, words) = match tested {
        Some(t) if t.p < DOUBT => (CheckResult::Doubtful, doubtful),
        Some(_) if !few => (CheckResult::Fine, fine),
        _ => (CheckResult::CantTell, cant_tell),
    };
    Check {
        kind,
        result,
        statistic: tested.map(|t| t.statistic),
        p: tested.map(|t| t.p),
        words: words.to_owned(),
    }
}

fn name(trial: &Trial, plot: Known<'_>) -> String {
    let treatment = trial.treatments.get(plot.treatment).map_or("", String::as_str);
    if trial.design.blocked() {
        format!("{treatment} in {} {}", place(trial.design), plot.block + 1)
    } else {
        format!("a plot of {treatment}")
    }
}
