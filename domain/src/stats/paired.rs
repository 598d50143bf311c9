//! Tests of paired differences that take nothing for granted about their shape. Both are exact.

use super::count::count;

/// The sums of ranks of a signed-rank test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SignedRank {
    /// Differences that are not 0.
    pub pairs: usize,
    /// Sum of the ranks of those above 0.
    pub above: f64,
    /// Sum of the ranks of those below 0.
    pub below: f64,
    /// The chance of sums as unequal, two-sided.
    pub p: f64,
}

/// The signs of differences, counted over all ways in which they could have fallen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SignFlip {
    /// The sum of the differences, as far from 0 as it is.
    pub sum: f64,
    /// Ways in which the sum comes out at least as large.
    pub at_least: u32,
    /// Those of them in which it is the same.
    pub equal: u32,
    /// Two-sided chance.
    pub p: f64,
}

/// Differences that are closer than this share of the largest count as alike: they differ by what a
/// subtraction of decimal numbers leaves.
const ALIKE: f64 = 1e-9;
/// Beyond this many pairs not all ways can be counted; with so many Student's t does well.
const MOST_FLIPS: usize = 30;

/// The signed-rank test. Pairs without a difference are left out; equal ones share their rank. The
/// chance is counted over all signs, also with shared ranks.
///
/// `None` when no pair differs.
pub fn signed_rank(differences: &[f64]) -> Option<SignedRank> {
    let largest = differences.iter().fold(0.0_f64, |m, d| m.max(d.abs()));
    let near = ALIKE * largest;
    let mut left: Vec<f64> = differences.iter().copied().filter(|d| d.abs() > near).collect();
    if left.is_empty() || !largest.is_finite() {
        return None;
    }
    left.sort_by(|a, b| a.abs().total_cmp(&b.abs()));
    let doubled = doubled_ranks(&left, near);
    let sum = |keep: fn(f64) -> bool| -> usize {
        left.iter().zip(&doubled).filter(|(d, _)| keep(**d)).map(|(_, r)| r).sum()
    };
    let (above, below) = (sum(|d| d > 0.0), sum(|d| d < 0.0));
    let smaller = above.min(below);
    let lower: f64 = shares(&doubled).iter().take(smaller + 1).sum();
    Some(SignedRank {
        pairs: left.len(),
        above: count(above) / 2.0,
        below: count(below) / 2.0,
        p: (2.0 * lower).min(1.0),
    })
}

/// Twice the rank of each, so that shared ranks are whole numbers too.
fn doubled_ranks(sorted: &[f64], near: f64) -> Vec<usize> {
    let mut ranks = Vec::with_capacity(sorted.len());
    for group in sorted.chunk_by(|a, b| b.abs() - a.abs() <= near) {
        let before = ranks.len();
        let shared = 2 * before + group.len() + 1;
        ranks.extend(std::iter::repeat_n(shared, group.len()));
    }
    ranks
}

/// The chance of each sum when every rank counts or not with even chance.
fn shares(ranks: &[usize]) -> Vec<f64> {
    let mut shares = vec![1.0];
    for rank in ranks {
        let moved = std::iter::repeat_n(0.0, *rank).chain(shares.iter().copied());
        let stayed = shares.iter().copied().chain(std::iter::repeat(0.0));
        shares = moved.zip(stayed).map(|(a, b)| f64::midpoint(a, b)).collect();
    }
    shares
}

/// The sign-flip test: had the treatments no effect, each difference could as well have had the other
/// sign. Counts all ways.
///
/// `None` without differences or with more than 30.
pub fn sign_flip(differences: &[f64]) -> Option<SignFlip> {
    if differences.is_empty() || differences.len() > MOST_FLIPS {
        return None;
    }
    let size: f64 = differences.iter().map(|d| d.abs()).sum();
    if !(size > 0.0 && size.is_finite()) {
        return None;
    }
    let near = ALIKE * size;
    let sum = differences.iter().sum::<f64>().abs();
    // Half of the signs are counted against the sorted sums of the other half.
    let (one, other) = differences.split_at(differences.len() / 2);
    let (one, mut other) = (sums(one), sums(other));
    other.sort_by(f64::total_cmp);
    let reaching = |least: f64| -> usize {
        one.iter().map(|s| other.len() - other.partition_point(|o| s + o < least)).sum()
    };
    let at_least = reaching(sum - near);
    let equal = at_least - reaching(sum + near);
    let ways = count(one.len()) * count(other.len());
    Some(SignFlip {
        sum,
        at_least: u32::try_from(at_least).ok()?,
        equal: u32::try_from(equal).ok()?,
        p: (2.0 * count(at_least) / ways).min(1.0),
    })
}

/// The sums of all ways to choose signs.
fn sums(differences: &[f64]) -> Vec<f64> {
    let start = vec![0.0];
    differences.iter().fold(start, |sums, d| sums.iter().flat_map(|s| [s + d, s - d]).collect())
}
