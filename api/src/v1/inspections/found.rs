//! Findings, row by row, in SI base units.

use domain::planter::inspection::{ItemCode, Measure, Status};
use domain::quantity::{Area, Length, Measured, System, bounds};

use super::dto::FindingIn;
use crate::http::BadMember;
use crate::http::quantity::Quantity;

/// What was found at an item on one row.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Place in the list that was entered.
    pub place: usize,
    /// The item.
    pub item: ItemCode,
    /// The row; `None` for what the planter has once.
    pub row: Option<u16>,
    /// What whoever looked says.
    pub by_eye: Status,
    /// What was measured, SI.
    pub value: Option<f64>,
}

impl Found {
    /// Where its measurement stands in the body.
    pub fn pointer(&self) -> String {
        format!("/findings/{}/measured", self.place)
    }
}

/// A finding on each row for which it holds. Rows that the planter does not have are left out: they
/// were refused when it was entered, and a planter may be rebuilt later.
pub(super) fn on_rows(place: usize, given: &FindingIn, rows: u16) -> Vec<Found> {
    let item = ItemCode::from(given.item);
    let Some(known) = item.item() else {
        return Vec::new();
    };
    let value = known.measure.zip(given.measured.as_ref());
    let value = value.and_then(|(measure, it)| read(&measure, it, "").ok());
    let by_eye = given.status.map_or(Status::NotChecked, Status::from);
    let found = |row| Found { place, item, row, by_eye, value };
    match (known.per_row, given.rows.as_slice()) {
        (false, _) => vec![found(None)],
        (true, []) => (1..=rows).map(|row| found(Some(row))).collect(),
        (true, some) => {
            let there = some.iter().filter(|row| (1..=rows).contains(*row));
            there.map(|row| found(Some(*row))).collect()
        }
    }
}

/// A measurement in SI base units.
pub(in crate::v1) fn read(
    measure: &Measure,
    given: &Quantity,
    pointer: &str,
) -> Result<f64, BadMember> {
    match measure {
        Measure::Wear(bound) | Measure::Set(bound) => given.parse(pointer, bound).map(Measured::si),
        Measure::Since(bound) => given.parse(pointer, bound).map(Measured::si),
    }
}

/// A value in SI base units as the caller reads it.
pub(in crate::v1) fn shown(measure: &Measure, value: f64, system: System) -> Quantity {
    match measure {
        Measure::Wear(bound) | Measure::Set(bound) => {
            Quantity::show(bound, Length::from_si(value), system)
        }
        Measure::Since(bound) => Quantity::show(bound, Area::from_si(value), system),
    }
}

/// An area in m² as the caller reads it.
pub(in crate::v1) fn area(value: f64, system: System) -> Quantity {
    Quantity::show(&bounds::PLANTED_AREA, Area::from_si(value), system)
}
