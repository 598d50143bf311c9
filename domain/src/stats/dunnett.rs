//! Several treatments against one control (Dunnett): the largest of several t that share a control.
//!
//! Each t is worth `loading` of what they share: the correlation of two of them is the product of
//! their loadings. With equal numbers of plots each loading is the square root of a half.

use std::sync::OnceLock;

use super::normal::phi;
use super::quadrature::{Smooth, falls_to, over_normal, over_spread, sound};

/// Beyond this |t| lies less than 1e-15 of all, for up to 100 comparisons.
const FAR: f64 = 9.0;

/// The largest of several t when the spread is known and all have equally many plots.
static EQUAL: [OnceLock<Smooth>; 25] = [const { OnceLock::new() }; 25];

/// The largest of several |t| that share a control.
#[derive(Debug)]
pub struct Dunnett {
    df: f64,
    own: Option<Smooth>,
    comparisons: usize,
}

impl Dunnett {
    /// `None` unless there is a loading, each is 0 or more and below 1, and `df` >= 1.
    pub fn of(loadings: &[f64], df: f64) -> Option<Self> {
        let loaded = loadings.iter().all(|l| (0.0..1.0).contains(l));
        let comparisons = loadings.len();
        if !(loaded && sound(df)) || comparisons == 0 {
            return None;
        }
        let equal = loadings.iter().all(|l| (l * l - 0.5).abs() < 1e-12);
        let kept = equal && comparisons < EQUAL.len();
        Some(Self { df, own: (!kept).then(|| largest(loadings)), comparisons })
    }

    /// The chance that the largest of the |t| is at least `t` when no treatment differs from the
    /// control; 1 where `t` is not above 0.
    pub fn tail(&self, t: f64) -> f64 {
        let below = self.largest();
        match below {
            Some(below) => {
                let reach = t.max(0.0);
                (1.0 - over_spread(self.df, |s| below.at(reach * s))).clamp(0.0, 1.0)
            }
            None => 1.0,
        }
    }

    /// The |t| that the largest exceeds with a chance of `alpha`; `None` unless 0 < `alpha` < 1.
    pub fn critical(&self, alpha: f64) -> Option<f64> {
        if !(alpha > 0.0 && alpha < 1.0) {
            return None;
        }
        falls_to(alpha, |t| self.tail(t))
    }

    fn largest(&self) -> Option<&Smooth> {
        let equal = || largest(&vec![0.5_f64.sqrt(); self.comparisons]);
        self.own.as_ref().or_else(|| Some(EQUAL.get(self.comparisons)?.get_or_init(equal)))
    }
}

/// The chance that all |t| lie below a reach when the spread is known.
fn largest(loadings: &[f64]) -> Smooth {
    let grouped = grouped(loadings);
    Smooth::of(FAR, |reach| over_normal(|z| grouped.iter().map(|g| g.within(reach, z)).product()))
}

/// Comparisons with one loading: they are alike, so they are worked out once.
struct Alike {
    loading: f64,
    /// What is left of the variable when the shared part is known.
    own: f64,
    times: i32,
}

impl Alike {
    /// The chance that all of them lie within plus and minus `reach`, the shared part being `z`.
    fn within(&self, reach: f64, z: f64) -> f64 {
        let shift = self.loading * z;
        let inside = phi((reach - shift) / self.own) - phi((-reach - shift) / self.own);
        inside.max(0.0).powi(self.times)
    }
}

fn grouped(loadings: &[f64]) -> Vec<Alike> {
    let mut groups: Vec<Alike> = Vec::new();
    for &loading in loadings {
        match groups.iter_mut().find(|g| (g.loading - loading).abs() < 1e-12) {
            Some(group) => group.times += 1,
            None => groups.push(Alike { loading, own: (1.0 - loading * loading).sqrt(), times: 1 }),
        }
    }
    groups
}
