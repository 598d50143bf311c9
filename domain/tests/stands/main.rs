//! Degree days, emergence, stand counts and planting again: worked cases from outside, and what holds
//! for any of them.
#![expect(clippy::unwrap_used, reason = "a broken calculation must fail loudly")]

mod again;
mod counts;
mod emergence;
mod heat;

use chrono::NaiveDate;
use domain::quantity::{Measured, unit};
use domain::stand::{Day, DayFrom, Known};

pub(crate) fn q<Q: Measured>(value: f64, code: &str) -> Q {
    let known = unit(code).filter(|u| u.kind == Q::KIND);
    assert!(known.is_some(), "{code} is no unit of this kind");
    Q::from_si(known.map_or(f64::NAN, |u| u.to_si(value)))
}

pub(crate) fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub(crate) fn day(high: f64, low: f64) -> Day {
    Day::new(q(high, "[degF]"), q(low, "[degF]")).unwrap()
}

/// Measured days, one after the other; `None` is a day that nobody entered.
pub(crate) fn known(first: &str, days: &[Option<(f64, f64)>]) -> Known {
    let dates = date(first).iter_days();
    let each = dates.zip(days).filter_map(|(date, it)| Some((date, (*it)?)));
    each.map(|(date, (high, low))| (date, (day(high, low), DayFrom::Measured))).collect()
}
