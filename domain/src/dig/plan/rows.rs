//! Which rows: each end, a row behind a tyre, every part of the frame, and other rows than last
//! time.

use serde::{Deserialize, Serialize};

use super::bar::{Bar, DugRow, Part};

/// Why a row is dug.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RowWhy {
    /// At the left end, where a frame that lifts shows first.
    LeftEnd,
    /// At the right end.
    RightEnd,
    /// Behind a tractor or planter tyre, where the soil is packed.
    BehindTyre,
    /// Between the ends.
    Inner,
    /// It differed from the rest last time.
    OddLastTime,
}

/// A row to dig.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chosen {
    pub row: u16,
    pub why: Vec<RowWhy>,
    /// The part of the frame that carries it.
    pub part: String,
}

/// What the rows of a dig should hold between them.
#[derive(Debug, Clone, Copy)]
enum Need<'a> {
    Left,
    Right,
    Tyre,
    Part(&'a Part),
    Any,
}

/// Chooses `count` rows for a dig that starts afresh, in the order of their worth; rows that were
/// odd last time come on top.
pub(super) fn afresh(bar: &Bar<'_>, dug: &[DugRow], count: u16) -> Vec<Chosen> {
    let before: Vec<u16> = dug.iter().map(|d| d.row).collect();
    let mut rows = fill(bar, &[], count, |row| before.contains(&row));
    let odd = dug.iter().filter(|d| d.odd && (1..=bar.rows).contains(&d.row)).map(|d| d.row);
    rows.extend(odd.clone().filter(|row| !rows.contains(row)).collect::<Vec<_>>());
    let again: Vec<u16> = odd.collect();
    described(bar, &rows, &again)
}

/// Chooses `count` rows besides those that were dug.
pub(super) fn more(bar: &Bar<'_>, dug: &[u16], count: u16) -> Vec<Chosen> {
    let left = (1..=bar.rows).filter(|row| !dug.contains(row)).count();
    let count = count.min(u16::try_from(left).unwrap_or(u16::MAX));
    described(bar, &fill(bar, dug, count, |_| false), &[])
}

/// All of the rows given, in that order.
pub(super) fn those(bar: &Bar<'_>, rows: &[u16]) -> Vec<Chosen> {
    described(bar, rows, &[])
}

/// Fills the needs that `have` leaves open, the most important first, then spreads the rest.
fn fill(bar: &Bar<'_>, have: &[u16], count: u16, avoid: impl Fn(u16) -> bool) -> Vec<u16> {
    let parts = bar.parts();
    let mut needs = vec![Need::Left, Need::Right, Need::Tyre];
    // Thirds of a bar only have names; sections of a frame lift by themselves.
    if bar.has_sections() {
        needs.extend(parts.iter().map(Need::Part));
    }
    let mut taken = have.to_vec();
    let mut found = Vec::new();
    let mut needs = needs.into_iter();
    while found.len() < usize::from(count.min(bar.rows)) {
        let need = needs.next().unwrap_or(Need::Any);
        if taken.iter().any(|row| need.met_by(bar, *row)) && !matches!(need, Need::Any) {
            continue;
        }
        let free = (1..=bar.rows).filter(|row| !taken.contains(row));
        let fit = free.filter(|row| need.met_by(bar, *row));
        let best = fit.min_by_key(|row| (avoid(*row), need.rank(bar, *row, &taken)));
        match best {
            Some(row) => {
                taken.push(row);
                found.push(row);
            }
            None if matches!(need, Need::Any) => break,
            None => {}
        }
    }
    found
}

impl Need<'_> {
    fn met_by(&self, bar: &Bar<'_>, row: u16) -> bool {
        match self {
            Self::Left => bar.outer_left(row),
            Self::Right => bar.outer_right(row),
            Self::Tyre => bar.behind_tyre(row),
            // A row at the end does not speak for the inner rows of its wing.
            Self::Part(part) => part.carries(row) && !bar.outer_left(row) && !bar.outer_right(row),
            Self::Any => true,
        }
    }

    /// The lowest comes first.
    fn rank(&self, bar: &Bar<'_>, row: u16, taken: &[u16]) -> (bool, u16, u16, u16) {
        let near = taken.iter().map(|other| other.abs_diff(row)).min().unwrap_or(bar.rows);
        let apart = bar.rows - near.min(bar.rows);
        let gap = widest_gap(bar, row, taken);
        match self {
            Self::Left => (false, row, 0, row),
            Self::Right => (false, bar.rows - row, 0, row),
            Self::Tyre => (false, gap, apart, row),
            Self::Part(_) | Self::Any => (bar.behind_tyre(row), gap, apart, row),
        }
    }
}

/// The widest run of rows between two that are dug, once this one is dug too.
fn widest_gap(bar: &Bar<'_>, row: u16, taken: &[u16]) -> u16 {
    let mut all: Vec<u16> = taken.iter().copied().chain([0, row, bar.rows + 1]).collect();
    all.sort_unstable();
    all.iter().zip(all.iter().skip(1)).map(|(a, b)| b - a).max().unwrap_or(0)
}

fn described(bar: &Bar<'_>, rows: &[u16], again: &[u16]) -> Vec<Chosen> {
    let parts = bar.parts();
    let part = |row: u16| parts.iter().find(|p| p.carries(row)).map_or("", |p| p.name.as_str());
    rows.iter()
        .map(|row| Chosen { row: *row, why: why(bar, *row, again), part: part(*row).to_owned() })
        .collect()
}

fn why(bar: &Bar<'_>, row: u16, again: &[u16]) -> Vec<RowWhy> {
    let (left, right) = (bar.outer_left(row), bar.outer_right(row));
    let all = [
        (again.contains(&row), RowWhy::OddLastTime),
        (left, RowWhy::LeftEnd),
        (right, RowWhy::RightEnd),
        (bar.behind_tyre(row), RowWhy::BehindTyre),
        (!left && !right, RowWhy::Inner),
    ];
    all.into_iter().filter(|(so, _)| *so).map(|(_, why)| why).collect()
}
