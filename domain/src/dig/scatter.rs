//! Whether the seeds of one row scatter more than those of the other rows.

use crate::stats::{count, f_tail, holm, squares};

/// For each row the chance of so large a scatter against the other rows without a cause (one-sided
/// F), held for the number of rows that can be judged (Holm). None for a row that has one seed, or
/// when none of the others has two.
///
/// With rows of one size this is Cochran's test of the largest variance, asked of every row. No
/// scatter is taken to be finer than the ruler reads.
pub(super) fn scatter(rows: &[&[f64]], grain: f64) -> Vec<Option<f64>> {
    let rounding = grain * grain / 12.0;
    let parts: Vec<(f64, f64)> =
        rows.iter().map(|r| (squares(r), (count(r.len()) - 1.0).max(0.0))).collect();
    let (all, all_df) = parts.iter().fold((0.0, 0.0), |(s, d), p| (s + p.0, d + p.1));
    let raw: Vec<Option<f64>> = parts
        .iter()
        .map(|(own, df)| {
            let (others, others_df) = (all - own, all_df - df);
            if *df < 1.0 || others_df < 1.0 {
                return None;
            }
            let usual = (others / others_df).max(rounding);
            if usual <= 0.0 {
                return None;
            }
            f_tail(own / df / usual, *df, others_df)
        })
        .collect();
    let mut held = holm(&raw.iter().copied().flatten().collect::<Vec<_>>()).into_iter();
    raw.into_iter().map(|p| p.and_then(|_| held.next())).collect()
}
