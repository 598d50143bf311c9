//! Many comparisons at once: keep the chance of any false alarm at the level of one.

use super::count::count;

/// Holm's step-down adjustment. The order of the input is kept; no value exceeds 1.
pub fn holm(p_values: &[f64]) -> Vec<f64> {
    let mut ranked: Vec<(usize, f64)> = p_values.iter().copied().enumerate().collect();
    ranked.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut reached = 0.0_f64;
    let mut adjusted: Vec<(usize, f64)> = Vec::with_capacity(ranked.len());
    for (rank, (place, p)) in ranked.into_iter().enumerate() {
        let left = count(p_values.len()) - count(rank);
        reached = reached.max((left * p).min(1.0));
        adjusted.push((place, reached));
    }
    adjusted.sort_by_key(|(place, _)| *place);
    adjusted.into_iter().map(|(_, p)| p).collect()
}

/// Benjamini and Hochberg's adjustment: keeps the share of false alarms among the alarms. The order
/// of the input is kept; no value exceeds 1.
pub fn benjamini_hochberg(p_values: &[f64]) -> Vec<f64> {
    let mut ranked: Vec<(usize, f64)> = p_values.iter().copied().enumerate().collect();
    ranked.sort_by(|a, b| b.1.total_cmp(&a.1));
    let all = count(p_values.len());
    let mut reached = 1.0_f64;
    let mut adjusted: Vec<(usize, f64)> = Vec::with_capacity(ranked.len());
    for (larger, (place, p)) in ranked.into_iter().enumerate() {
        reached = reached.min(all * p / (all - count(larger)));
        adjusted.push((place, reached));
    }
    adjusted.sort_by_key(|(place, _)| *place);
    adjusted.into_iter().map(|(_, p)| p).collect()
}
