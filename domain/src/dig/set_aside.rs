//! Rows that do not speak for the planter: tyre tracks, lifting ends, single odd rows.
//!
//! A row that differs is a matter of that row. It is set aside, so that the planter is judged by
//! the others; it is still shown.

use serde::{Deserialize, Serialize};

use super::statistics::RowDepths;
use crate::quantity::{Length, Measured};
use crate::stats::{Difference, Usual, apart, holm, mean};

/// Level at which rows count as different. How often sound rows raise an alarm and odd rows are
/// found is checked on simulated digs in the tests.
const LEVEL: f64 = 0.05;

/// A row that was set aside.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SetAside {
    /// The row.
    pub row: u16,
    /// Why.
    pub why: Apart,
    /// Its mean less the mean of the others; negative is shallower.
    pub difference: Length,
    /// Chance of such a difference without cause, held for the number of rows compared.
    pub p: f64,
}

/// Why a row was set aside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Apart {
    /// Rows behind tyres lie shallower than the rest.
    BehindTyre,
    /// The outer rows lie shallower than the rest.
    Outer,
    /// A single row that differs from the rest.
    Odd,
}

/// Whether a row belongs to a group.
type Belongs = fn(&RowDepths) -> bool;

/// What a difference is judged by, in m.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measure {
    /// Tolerance of the depth.
    pub tolerance: f64,
    /// What is known about the spread before a seed is dug.
    pub usual: Usual,
}

/// Finds the rows that do not speak for the planter. Never as many as half of the rows that are
/// left for single odd rows.
pub(super) fn set_aside(rows: &[RowDepths], measure: Measure) -> Vec<SetAside> {
    let mut out = Vec::new();
    let mut left: Vec<&RowDepths> = rows.iter().filter(|r| !r.depths.is_empty()).collect();
    let groups: [(Apart, Belongs); 2] =
        [(Apart::BehindTyre, |r| r.behind_tyre), (Apart::Outer, |r| r.outer)];
    for (why, belongs) in groups {
        let found = group(&left, why, belongs, measure);
        left.retain(|r| found.iter().all(|f| f.row != r.row));
        out.extend(found);
    }
    out.extend(odd_rows(&left, measure));
    out.sort_by_key(|s| s.row);
    out
}

/// A group of rows by place, shallower than the rest by more than half the tolerance.
fn group(rows: &[&RowDepths], why: Apart, belongs: Belongs, measure: Measure) -> Vec<SetAside> {
    let (own, rest): (Vec<&RowDepths>, Vec<&RowDepths>) = rows.iter().partition(|r| belongs(r));
    let Some(found) = apart(&depths(&own), &depths(&rest), measure.usual) else {
        return Vec::new();
    };
    if found.p >= LEVEL || found.difference > -measure.tolerance / 2.0 {
        return Vec::new();
    }
    let difference = Length::from_si(found.difference);
    let aside = |r: &&RowDepths| SetAside { row: r.row, why, difference, p: found.p };
    own.iter().map(aside).collect()
}

/// The single rows that surely differ from the others by more than the tolerance.
///
/// The farthest rows are compared with the core that is left without them, so that two odd rows do
/// not hide each other: first as many as can be without being half of the rows, then fewer.
fn odd_rows(rows: &[&RowDepths], measure: Measure) -> Vec<SetAside> {
    let most = rows.len().saturating_sub(1) / 2;
    let far_first = by_distance(rows);
    (1..=most)
        .rev()
        .find_map(|odd| {
            let (far, core) = far_first.split_at_checked(odd)?;
            all_odd(far, core, rows.len(), measure)
        })
        .unwrap_or_default()
}

/// The rows by their distance from the middle row, the farthest first.
fn by_distance<'a>(rows: &[&'a RowDepths]) -> Vec<&'a RowDepths> {
    let means = |r: &RowDepths| mean(&r.depths).unwrap_or(0.0);
    let mut sorted: Vec<f64> = rows.iter().map(|r| means(r)).collect();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.get(sorted.len() / 2).copied().unwrap_or(0.0);
    let mut far_first = rows.to_vec();
    let off = |r: &RowDepths| (means(r) - middle).abs();
    far_first.sort_by(|a, b| off(b).total_cmp(&off(a)));
    far_first
}

/// All of the far rows, if each of them surely differs from the core.
fn all_odd(
    far: &[&RowDepths],
    core: &[&RowDepths],
    rows: usize,
    measure: Measure,
) -> Option<Vec<SetAside>> {
    let rest = depths(core);
    let found: Vec<Difference> = far
        .iter()
        .map(|row| apart(&depths(&[row]), &rest, measure.usual))
        .collect::<Option<_>>()?;
    // Every row was looked at, so every row counts among the comparisons.
    let mut p_values: Vec<f64> = found.iter().map(|f| f.p).collect();
    p_values.resize(rows, 1.0);
    let adjusted = holm(&p_values);
    let aside = far.iter().zip(found).zip(adjusted).map(|((row, found), p)| {
        let sure = p < LEVEL && found.difference.abs() > measure.tolerance;
        let difference = Length::from_si(found.difference);
        sure.then_some(SetAside { row: row.row, why: Apart::Odd, difference, p })
    });
    aside.collect()
}

fn depths(rows: &[&RowDepths]) -> Vec<Vec<f64>> {
    rows.iter().map(|r| r.depths.clone()).collect()
}
