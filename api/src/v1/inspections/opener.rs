//! The opener discs as they are now: what was measured last on each row, or new where they were
//! replaced since.

use chrono::NaiveDate;
use domain::planter::inspection::ItemCode;
use domain::quantity::Measured;
use uuid::Uuid;

use super::shed::Shed;

const OPENER: ItemCode = ItemCode::OpenerDiameter;

/// The opener discs as they are now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenerNow {
    /// The newest inspection that measured them.
    pub inspection_id: Uuid,
    /// Its day.
    pub inspected_on: NaiveDate,
    /// Mean over the rows, m.
    pub mean: f64,
    /// The most worn row, m.
    pub least: f64,
    /// How many rows are known.
    pub rows: u16,
}

/// What is known of the discs; `None` where no inspection measured them.
///
/// The mean is what the engine needs: it takes all rows to be alike, and what a row more worn than the
/// others asks for is said by the open replacement.
pub fn now(shed: &Shed) -> Option<OpenerNow> {
    let newest = shed.visits.iter().rev().find(|visit| {
        visit.found.iter().any(|found| found.item == OPENER && found.value.is_some())
    })?;
    let rows: Vec<f64> =
        (1..=shed.planter.rows).filter_map(|row| of_row(shed, Some(row))).collect();
    let count = rows.iter().fold(0_u16, |count, _| count.saturating_add(1));
    if count == 0 {
        return None;
    }
    Some(OpenerNow {
        inspection_id: newest.id,
        inspected_on: newest.on,
        mean: rows.iter().sum::<f64>() / f64::from(count),
        least: rows.iter().copied().fold(f64::INFINITY, f64::min),
        rows: count,
    })
}

fn of_row(shed: &Shed, row: Option<u16>) -> Option<f64> {
    let read = shed.visits.iter().rev().find_map(|it| Some((it.on, it.value(OPENER, row)?)));
    let new = shed.planter.unit.opener.new_diameter.si();
    let renewed = shed.mended.iter().rev().find(|it| it.new_part && it.covers(OPENER, row));
    match (read, renewed) {
        (Some((on, value)), Some(renewed)) if renewed.on < on => Some(value),
        (_, Some(_)) => Some(new),
        (Some((_, value)), None) => Some(value),
        (None, None) => None,
    }
}
