//! The line of the sheet on acres, days, and what going slower costs; and the seed to order.

use super::table::Line;
use super::words::{quantity, why};
use crate::http::quantity::Quantity;
use crate::v1::recommendations::answer::{SeedOrderOut, WorkOut};
use crate::v1::recommendations::work::WorkArea;

/// Area an hour, days for the area, and the price of one mile an hour less.
pub(super) fn line(it: &WorkOut) -> Line {
    let pace = &it.advised;
    let capacity = per_hour(&pace.capacity);
    let area = match it.area_from {
        WorkArea::Given => rounded(&it.area),
        WorkArea::HundredAcres => format!("each {}", rounded(&it.area)),
    };
    let more = format!(
        "{area} in about {} calendar days ({} to {})",
        days(pace.calendar_days),
        days(pace.calendar_low),
        days(pace.calendar_high)
    );
    Line { name: "Work", set: capacity, more, why: why(&it.because) }
}

/// `; order 17 units of 80,000`, where the order is known.
pub(super) fn order(seed: Option<&SeedOrderOut>) -> String {
    seed.map_or_else(String::new, |seed| {
        let each = Quantity::new(seed.seeds_per_unit, "1");
        format!("; seed to order: {:.0} units of {}", seed.units, quantity(&each).trim())
    })
}

fn days(days: f64) -> String {
    if days < 10.0 { format!("{days:.1}") } else { format!("{days:.0}") }
}

fn per_hour(capacity: &Quantity) -> String {
    let label = if capacity.unit == "har/h" { "ha/h" } else { "ac/h" };
    format!("{:.1} {label}", capacity.value)
}

fn rounded(area: &Quantity) -> String {
    let value =
        if area.value < 20.0 { (area.value * 10.0).round() / 10.0 } else { area.value.round() };
    quantity(&Quantity::new(value, &area.unit))
}
