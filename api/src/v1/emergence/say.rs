//! Degree days and what was assumed, as they go out.

use domain::provenance::{self, Mark, sources};
use domain::quantity::{System, bounds};
use domain::stand::{DayFrom, Heat, HeatDay};

use super::dto::HeatDayOut;
use crate::http::quantity::{Quantity, six_digits};
use crate::v1::trace::{self, Assumed};

/// Degree days in °F, or in K.
pub(super) fn degree_days(fahrenheit: f64, system: System) -> Quantity {
    match system {
        System::Us => Quantity::new(six_digits(fahrenheit), "[degF].d"),
        System::Si => Quantity::new(six_digits(fahrenheit / 1.8), "K.d"),
    }
}

/// A day of the sum.
pub(super) fn day(it: &HeatDay, system: System) -> HeatDayOut {
    let shown = |t| Quantity::show(&bounds::AIR_TEMPERATURE, t, system);
    HeatDayOut {
        date: it.date,
        from: it.from.into(),
        high: shown(it.day.high()),
        low: shown(it.day.low()),
        degree_days: degree_days(it.degree_days, system),
        sum: degree_days(it.sum, system),
    }
}

/// What was assumed because it was asked for.
pub(super) fn assumed(heat: &Heat) -> Vec<Assumed> {
    let count = |from: DayFrom| heat.days.iter().filter(|day| day.from == from).count();
    let mut list = Vec::new();
    let filled = count(DayFrom::Filled);
    if filled > 0 {
        list.push(assumption(
            format!("temperatures of {filled} missing days"),
            "the mean of the two days beside the gap",
            "enter the days",
        ));
    }
    let normal = count(DayFrom::Normal);
    if normal > 0 {
        list.push(assumption(
            format!("temperatures of {normal} days to come"),
            "those of the normal day that was given",
            "enter a forecast as expected days",
        ));
    }
    trace::assumed(list)
}

fn assumption(what: String, used: &'static str, instead: &'static str) -> provenance::Assumed {
    provenance::Assumed {
        what: what.into(),
        used: used.into(),
        range: None,
        instead: instead.into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    }
}
