//! Numbers as a grower reads them, with their units.

pub(super) use crate::settings::say::{inches, mph, pounds};

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
        Some((end, before)) => format!("rows {} and {end}", before.join(", ")),
    }
}
