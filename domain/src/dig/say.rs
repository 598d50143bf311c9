//! Numbers as a grower reads them, with their units.

pub(super) use crate::settings::say::{inches, mph, pounds};

/// `12 %`.
pub(super) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}
