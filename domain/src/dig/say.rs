//! Numbers as a grower reads them, with their units.

use crate::quantity::{Force, Length, Measured, Speed};

const INCH: f64 = 0.0254;
const POUND_FORCE: f64 = 4.448_221_615_260_5;
const MPH: f64 = 0.447_04;

/// `1.75 in`.
pub(super) fn inches(length: Length) -> String {
    format!("{:.2} in", length.si() / INCH)
}

/// `120 lbf`.
pub(super) fn pounds(force: Force) -> String {
    format!("{:.0} lbf", force.si() / POUND_FORCE)
}

/// `4.5 mph`.
pub(super) fn mph(speed: Speed) -> String {
    format!("{:.1} mph", speed.si() / MPH)
}

/// `12 %`.
pub(super) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// `row 3`, `rows 3, 4 and 7`.
pub(super) fn rows(list: &[u16]) -> String {
    let names: Vec<String> = list.iter().map(u16::to_string).collect();
    match names.split_last() {
        None => "no row".to_owned(),
        Some((only, [])) => format!("row {only}"),
        Some((last, before)) => format!("rows {} and {last}", before.join(", ")),
    }
}
