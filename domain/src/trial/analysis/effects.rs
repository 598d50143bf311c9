//! Differences between treatments, their intervals, and what they mean.

use std::f64::consts::SQRT_2;

use super::loadings::loadings;
use super::model::Model;
use super::outcome::{Comparison, Effect, Reading};
use super::plots::{Known, of_treatment, whole};
use super::trial::{Scale, Trial};
use crate::stats::{
    Dunnett, count, mean, studentized_critical, studentized_tail, t_critical, t_p_value,
};

/// Which treatments are held against which.
pub(super) fn pairs(trial: &Trial) -> Vec<(usize, usize)> {
    let all = trial.treatments.len();
    match trial.control {
        Some(control) => (0..all).filter(|t| *t != control).map(|t| (t, control)).collect(),
        None => (0..all).flat_map(|a| (a + 1..all).map(move |b| (b, a))).collect(),
    }
}

/// How they are held against each other.
pub(super) fn comparison(trial: &Trial) -> Comparison {
    match (trial.treatments.len(), trial.control) {
        (2, _) => Comparison::StudentT,
        (_, Some(_)) => Comparison::Dunnett,
        (_, None) => Comparison::TukeyKramer,
    }
}

/// The effects that the plots can tell.
pub(super) fn effects(
    trial: &Trial,
    known: &[Known<'_>],
    model: Option<&Model<'_>>,
) -> Vec<Effect> {
    let told: Vec<Bare> = pairs(trial)
        .into_iter()
        .filter_map(|pair| model.and_then(|m| bare(m, pair)).or_else(|| plain(known, pair)))
        .collect();
    let held = model.and_then(|m| Held::of(trial, m, &told));
    told.iter().map(|effect| finish(trial, model, *effect, held.as_ref())).collect()
}

/// A difference before its limits.
#[derive(Debug, Clone, Copy)]
struct Bare {
    pair: (usize, usize),
    difference: f64,
    against: f64,
    /// In units of the error variance; `None` where it was not replicated.
    variance: Option<f64>,
}

fn bare(model: &Model<'_>, pair: (usize, usize)) -> Option<Bare> {
    Some(Bare {
        pair,
        difference: model.difference(pair.0, pair.1)?,
        against: model.mean(pair.1)?.0,
        variance: Some(model.covariance(pair, pair)?),
    })
}

/// The difference of plain means, where blocks can't tell: each treatment in places of its own.
fn plain(known: &[Known<'_>], pair: (usize, usize)) -> Option<Bare> {
    let of = |treatment| mean(&of_treatment(known, treatment));
    let (treatment, against) = (of(pair.0)?, of(pair.1)?);
    Some(Bare { pair, difference: treatment - against, against, variance: None })
}

/// The critical value, and the chances that go with it.
struct Held {
    error: f64,
    df: f64,
    by: By,
    critical: f64,
}

enum By {
    StudentT,
    Dunnett(Dunnett),
    TukeyKramer(u32),
}

impl Held {
    /// `None` without replication, or where plots are exactly alike.
    fn of(trial: &Trial, model: &Model<'_>, told: &[Bare]) -> Option<Self> {
        let error = model.error_variance().filter(|e| *e > 0.0)?;
        let df = count(model.error_df());
        let alpha = trial.confidence.alpha();
        let by = match comparison(trial) {
            Comparison::StudentT => By::StudentT,
            Comparison::Dunnett => {
                By::Dunnett(Dunnett::of(&loadings(&correlations(model, told)), df)?)
            }
            Comparison::TukeyKramer => By::TukeyKramer(whole(trial.treatments.len())),
        };
        let critical = match &by {
            By::StudentT => t_critical(alpha, df)?,
            By::Dunnett(dunnett) => dunnett.critical(alpha)?,
            By::TukeyKramer(k) => studentized_critical(alpha, *k, df)? / SQRT_2,
        };
        Some(Self { error, df, by, critical })
    }

    fn p(&self, t: f64) -> Option<f64> {
        match &self.by {
            By::StudentT => t_p_value(t, self.df),
            By::Dunnett(dunnett) => Some(dunnett.tail(t.abs())),
            By::TukeyKramer(k) => studentized_tail(t.abs() * SQRT_2, *k, self.df),
        }
    }
}

/// How differences to one control hang together: the correlation of each with each.
fn correlations(model: &Model<'_>, told: &[Bare]) -> Vec<Vec<f64>> {
    let pairs: Vec<(usize, usize)> =
        told.iter().filter(|b| b.variance.is_some()).map(|b| b.pair).collect();
    let covariance = |a, b| model.covariance(a, b).unwrap_or(0.0);
    let with = |a: (usize, usize)| -> Vec<f64> {
        let of =
            |b: &(usize, usize)| covariance(a, *b) / (covariance(a, a) * covariance(*b, *b)).sqrt();
        pairs.iter().map(of).collect()
    };
    pairs.iter().map(|pair| with(*pair)).collect()
}

fn finish(trial: &Trial, model: Option<&Model<'_>>, bare: Bare, held: Option<&Held>) -> Effect {
    let tested = held.and_then(|h| {
        let se = (bare.variance? * h.error).sqrt();
        let t = bare.difference / se;
        Some((se, h.critical * se, t, h.p(t)?))
    });
    let replicated = bare.variance.is_some() && model.is_some_and(|m| m.error_df() > 0);
    let measured = trial.response.scale == Scale::Measure;
    let percent = 100.0 * bare.difference / bare.against;
    let effect = Effect {
        treatment: bare.pair.0,
        against: bare.pair.1,
        difference: bare.difference,
        percent: (measured && bare.against > 0.0 && percent.is_finite()).then_some(percent),
        se: tested.map(|(se, ..)| se),
        low: tested.map(|(_, half, ..)| bare.difference - half),
        high: tested.map(|(_, half, ..)| bare.difference + half),
        t: tested.map(|(_, _, t, _)| t),
        p: tested.map(|(.., p)| p),
        reading: if replicated { Reading::CantTell } else { Reading::NoReplication },
    };
    Effect { reading: reading(trial, &effect), ..effect }
}

/// What an effect means.
fn reading(trial: &Trial, effect: &Effect) -> Reading {
    let (Some(low), Some(high), Some(p)) = (effect.low, effect.high, effect.p) else {
        return effect.reading;
    };
    let shown = p < trial.confidence.alpha();
    match trial.matters {
        Some(least) if low > -least && high < least => Reading::TooSmall,
        Some(least) if shown && (low >= least || high <= -least) => Reading::Matters,
        _ if shown => Reading::Shown,
        _ => Reading::CantTell,
    }
}
