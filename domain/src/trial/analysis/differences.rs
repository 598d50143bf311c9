//! The pairs of a trial of two treatments.

use super::model::Model;
use super::outcome::{Exact, Pairs};
use super::plots::whole;
use crate::stats::{sd, sign_flip, signed_rank};

/// The differences, pair by pair, with the block of each.
pub(super) fn differences(model: &Model<'_>, pair: (usize, usize)) -> Vec<(usize, f64)> {
    let of = |treatment: usize| model.plots.iter().filter(move |p| p.treatment == treatment);
    of(pair.0)
        .filter_map(|one| {
            let other = of(pair.1).find(|other| other.block == one.block)?;
            Some((one.block, one.value - other.value))
        })
        .collect()
}

/// What the pairs say by themselves.
pub(super) fn pairs(differences: &[(usize, f64)]) -> Pairs {
    let all: Vec<f64> = differences.iter().map(|(_, d)| *d).collect();
    let rank = signed_rank(&all)
        .map(|found| Exact { statistic: found.above.min(found.below), p: found.p });
    Pairs {
        pairs: whole(all.len()),
        more: whole(all.iter().filter(|d| **d > 0.0).count()),
        sd: sd(&all),
        signed_rank: rank,
        sign_flip: sign_flip(&all).map(|found| Exact { statistic: found.sum, p: found.p }),
    }
}
