//! Limits where the groups are the units: readings of one group resemble each other.

use super::count::count;
use super::sample::{mean, sd};
use super::student::t_critical;

/// Readings of one group or of several, as far as mean and spread need them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pooled {
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation with n - 1; `None` with fewer than two.
    pub sd: Option<f64>,
}

/// Low and high limit of the mean of all readings, with the groups as units (Student's t with
/// groups - 1 degrees of freedom).
///
/// The mean is a ratio, all lengths over all readings, so that a group with many readings weighs
/// more: its variance is k / (k - 1) times the sum of squares of what each group adds to it, over
/// N². With groups of one size these are the limits of the mean of the group means. `None` with
/// fewer than two groups that have readings.
pub fn mean_limits(groups: &[Vec<f64>], confidence: f64) -> Option<(f64, f64)> {
    let all: Vec<f64> = groups.iter().flatten().copied().collect();
    let centre = mean(&all)?;
    let added: Vec<f64> = filled(groups).map(|g| g.iter().map(|x| x - centre).sum()).collect();
    let k = count(added.len());
    let t = t_critical(1.0 - confidence, k - 1.0)?;
    let squares: f64 = added.iter().map(|a| a * a).sum();
    let half = t * (k / (k - 1.0) * squares).sqrt() / count(all.len());
    Some((centre - half, centre + half))
}

/// Low and high limit of a figure above 0 of all readings, with the groups as units.
///
/// Each group is left out in turn; what that does to the logarithm of the figure shows how unsure
/// it is (delete-one jackknife, Student's t with groups - 1 degrees of freedom). Nothing is taken
/// for granted about the shape of the readings: a few long ones are what makes the usual limits of
/// a spread too narrow. `None` with fewer than two groups, or where the figure is 0 or missing,
/// for all readings or for those that are left, or where no group makes a difference: readings of a
/// coarse ruler can be so alike that nothing is learned from leaving them out.
pub fn figure_limits(
    groups: &[Vec<f64>],
    figure: impl Fn(Pooled) -> Option<f64>,
    confidence: f64,
) -> Option<(f64, f64)> {
    let all: Vec<f64> = groups.iter().flatten().copied().collect();
    let origin = mean(&all)?;
    let sums: Vec<Sums> = filled(groups).map(|g| Sums::of(g, origin)).collect();
    let whole = sums.iter().fold(Sums::default(), |a, b| a.plus(*b));
    let log = |s: Sums| figure(s.pooled(origin)?).filter(|f| *f > 0.0).map(f64::ln);
    let (k, centre) = (count(sums.len()), log(whole)?);
    let t = t_critical(1.0 - confidence, k - 1.0)?;
    let left: Vec<f64> = sums
        .iter()
        .map(|s| log(whole.less(*s)).map(|rest| (k - 1.0) * rest))
        .collect::<Option<_>>()?;
    let half = t * sd(&left)? / k.sqrt();
    if half < 1e-9 {
        return None;
    }
    let (low, high) = ((centre - half).exp(), (centre + half).exp());
    (low > 0.0 && high.is_finite()).then_some((low, high))
}

fn filled(groups: &[Vec<f64>]) -> impl Iterator<Item = &Vec<f64>> {
    groups.iter().filter(|g| !g.is_empty())
}

/// Count, sum and sum of squares about an origin that all groups share.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    n: f64,
    sum: f64,
    squares: f64,
}

impl Sums {
    fn of(group: &[f64], origin: f64) -> Self {
        let add = |s: Self, x: &f64| {
            let off = x - origin;
            Self { n: s.n + 1.0, sum: s.sum + off, squares: s.squares + off * off }
        };
        group.iter().fold(Self::default(), add)
    }

    fn plus(self, other: Self) -> Self {
        Self {
            n: self.n + other.n,
            sum: self.sum + other.sum,
            squares: self.squares + other.squares,
        }
    }

    fn less(self, other: Self) -> Self {
        Self {
            n: self.n - other.n,
            sum: self.sum - other.sum,
            squares: self.squares - other.squares,
        }
    }

    /// `None` without readings. A spread that is only rounding counts as none.
    fn pooled(self, origin: f64) -> Option<Pooled> {
        if self.n < 1.0 {
            return None;
        }
        let centre = self.sum / self.n;
        let about = self.squares - self.sum * centre;
        let real = if about > 1e-12 * self.squares.max(1e-12) { about } else { 0.0 };
        let sd = (self.n >= 2.0).then(|| (real / (self.n - 1.0)).sqrt());
        Some(Pooled { mean: origin + centre, sd })
    }
}
