//! Rows that do not speak for the planter: tyre tracks, lifting ends, single odd rows.
//!
//! A row that differs is a matter of that row. It is set aside, so that the planter is judged by
//! the others; it is still shown.

use serde::{Deserialize, Serialize};

use super::statistics::RowDepths;
use crate::quantity::{Length, Measured};
use crate::stats::{apart, holm};

/// Level at which a row or a group of rows counts as different.
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
    /// Finest step of the ruler.
    pub grain: f64,
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
    let most = left.len().saturating_sub(1) / 2;
    for _ in 0..most {
        let Some(odd) = oddest(&left, measure) else { break };
        left.retain(|r| r.row != odd.row);
        out.push(odd);
    }
    out.sort_by_key(|s| s.row);
    out
}

/// A group of rows by place, shallower than the rest by more than half the tolerance.
fn group(
    rows: &[&RowDepths],
    why: Apart,
    belongs: Belongs,
    measure: Measure,
) -> Vec<SetAside> {
    let (own, rest): (Vec<&RowDepths>, Vec<&RowDepths>) = rows.iter().partition(|r| belongs(r));
    let Some(found) = apart(&depths(&own), &depths(&rest), measure.grain) else {
        return Vec::new();
    };
    if found.p >= LEVEL || found.difference > -measure.tolerance / 2.0 {
        return Vec::new();
    }
    let difference = Length::from_si(found.difference);
    let aside = |r: &&RowDepths| SetAside {
        row: r.row,
        why,
        difference,
        p: found.p,
    };
    own.iter().map(aside).collect()
}

/// The row that differs most surely, by more than the tolerance.
fn oddest(rows: &[&RowDepths], measure: Measure) -> Option<SetAside> {
    if rows.len() < 3 {
        return None;
    }
    let compared: Vec<(u16, f64, f64)> = rows
        .iter()
        .filter_map(|row| {
            let rest: Vec<&RowDepths> = rows.iter().filter(|r| r.row != row.row).copied().collect();
            let found = apart(&depths(&[row]), &depths(&rest), measure.grain)?;
            Some((row.row, found.difference, found.p))
        })
        .collect();
    let adjusted = holm(&compared.iter().map(|c| c.2).collect::<Vec<_>>());
    compared
        .iter()
        .zip(adjusted)
        .filter(|((_, difference, _), p)| *p < LEVEL && difference.abs() > measure.tolerance)
        // Among rows that surely differ the one that lies farthest off is the odd one.
        .max_by(|a, b| a.0.1.abs().total_cmp(&b.0.1.abs()))
        .map(|((row, difference, _), p)| SetAside {
            row: *row,
            why: Apart::Odd,
            difference: Length::from_si(*difference),
            p,
        })
}

fn depths(rows: &[&RowDepths]) -> Vec<Vec<f64>> {
    rows.iter().map(|r| r.depths.clone()).collect()
}
