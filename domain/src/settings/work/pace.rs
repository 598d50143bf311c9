//! Acres an hour and days at one speed, and what the wheels carry there.

use serde::{Deserialize, Serialize};

use super::Work;
use crate::provenance::{Assumed, Coefficient, Coefficients, Input, Mark, Step, sources};
use crate::quantity::{Area, Force, Length, Measured, Ratio, Speed, unit};
use crate::settings::capacity::{AreaRate, field_capacity};
use crate::settings::forces::contact_loss;
use crate::stats::{Range, Spread};

/// One speed, what it covers, and what it does to contact.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pace {
    /// Ground speed.
    pub speed: Speed,
    /// Area an hour with turning and filling.
    pub capacity: AreaRate,
    /// Days of work for the area.
    pub working_days: f64,
    /// Calendar days, with the share of days that are fit.
    pub calendar_days: f64,
    /// Low end (5 %) of the calendar days.
    pub calendar_low: f64,
    /// High end (95 %).
    pub calendar_high: f64,
    /// Likely gauge-wheel load at the advised down force, hopper half full; 0 when the unit rides
    /// out. `None` where no down force is known.
    pub load: Option<Force>,
    /// Share of the time that a wheel may be off the ground at that load.
    pub contact_loss: Option<f64>,
}

/// How a day goes: efficiency, hours and the share of days, each with its range.
pub(super) struct Day {
    efficiency: Range,
    hours: Range,
    share: Range,
    pub assumed: Vec<Assumed>,
}

impl Day {
    pub(super) fn of(work: &Work, k: &Coefficients) -> Self {
        let mut assumed = Vec::new();
        let mut known = |given: Option<f64>, k: &Coefficient, words: Words| {
            given.map_or_else(
                || {
                    assumed.push(words.assumed(k));
                    Range::of(k)
                },
                Range::exact,
            )
        };
        Self {
            efficiency: known(work.efficiency.map(Ratio::si), &k.field_efficiency, EFFICIENCY),
            hours: known(work.hours_a_day, &k.hours_a_day, HOURS),
            share: known(work.suitable_share.map(Ratio::si), &k.suitable_share, SHARE),
            assumed,
        }
    }

    /// The pace at a speed; `None` for a planter without width or a day without work.
    pub(super) fn pace(&self, width: Length, speed: Speed, area: Area) -> Option<Pace> {
        let capacity = field_capacity(width, speed, Ratio::from_si(self.efficiency.likely)).ok()?;
        let a_day = |efficiency: f64, hours: f64, share: f64| {
            width.si() * speed.si() * efficiency * hours * 3600.0 * share
        };
        let working = area.si() / a_day(self.efficiency.likely, self.hours.likely, 1.0);
        let calendar = working / self.share.likely;
        let product =
            self.efficiency.spread().times(self.hours.spread()).times(self.share.spread());
        let at = |p: f64| area.si() / a_day(quantile(product, p), 1.0, 1.0);
        let known = working.is_finite() && calendar.is_finite();
        known.then_some(Pace {
            speed,
            capacity: capacity.effective,
            working_days: working,
            calendar_days: calendar,
            calendar_low: at(0.95).min(calendar),
            calendar_high: at(0.05).max(calendar),
            load: None,
            contact_loss: None,
        })
    }

    /// The steps that show the days at a pace.
    pub(super) fn steps(
        &self,
        width: Length,
        pace: &Pace,
        area: Area,
        k: &Coefficients,
    ) -> Vec<Step> {
        let efficiency = Ratio::from_si(self.efficiency.likely);
        let mut steps = field_capacity(width, pace.speed, efficiency)
            .map_or_else(|_| Vec::new(), |capacity| capacity.trace.steps);
        let is_assumed = |words: Words| self.assumed.iter().any(|a| a.what == words.what);
        let hours = if is_assumed(HOURS) { k.hours_a_day.mark } else { Mark::Derived };
        let share = if is_assumed(SHARE) { k.suitable_share.mark } else { Mark::Derived };
        let by_table = is_assumed(SHARE).then(|| k.suitable_share.source.clone());
        steps.push(Step {
            step: "working days".into(),
            formula: "A / (C h)".into(),
            inputs: vec![
                Input::new("A", acres(area), "[acr_us]"),
                Input::new("C", pace.capacity.acres_an_hour(), "[acr_us]/h"),
                Input::new("h", self.hours.likely, "h/d"),
            ],
            value: pace.working_days,
            unit: "d".into(),
            low: None,
            high: None,
            source: sources::DEFINITION.into(),
            mark: hours,
        });
        steps.push(Step {
            step: "calendar days".into(),
            formula: "working days / q".into(),
            inputs: vec![
                Input::new("working days", pace.working_days, "d"),
                Input::new("q", self.share.likely, "1"),
            ],
            value: pace.calendar_days,
            unit: "d".into(),
            low: Some(pace.calendar_low),
            high: Some(pace.calendar_high),
            source: by_table.unwrap_or_else(|| sources::DEFINITION.into()),
            // Marks are in the order of trust.
            mark: hours.max(share),
        });
        steps
    }
}

impl Pace {
    /// With the load and the contact at this speed.
    pub(super) fn with_load(self, load: Option<Force>, k: &Coefficients) -> Self {
        let scatter = Force::from_si(k.load_scatter.value);
        let load = load.map(|force| Force::from_si(force.si().max(0.0)));
        Self { load, contact_loss: load.map(|force| contact_loss(force, scatter)), ..self }
    }
}

/// A low quantile of a product of shares never reaches nothing.
fn quantile(product: Spread, p: f64) -> f64 {
    product.curve().quantile(p).max(0.01 * product.mean())
}

pub(super) fn acres(area: Area) -> f64 {
    unit("[acr_us]").map_or_else(|| area.si(), |u| u.read(area))
}

#[derive(Clone, Copy)]
struct Words {
    what: &'static str,
    used: &'static str,
    range: &'static str,
    instead: &'static str,
}

impl Words {
    fn assumed(self, k: &Coefficient) -> Assumed {
        let percent = |x: f64| (x * 100.0).round();
        let plain = self.used.is_empty();
        let (used, range) = if plain {
            (
                format!("{} %", percent(k.value)),
                format!("{} to {} %", percent(k.low), percent(k.high)),
            )
        } else {
            (
                format!("{} {}", k.value, self.used),
                format!("{} to {} {}", k.low, k.high, self.range),
            )
        };
        Assumed {
            what: self.what.into(),
            used: used.into(),
            range: Some(range.into()),
            instead: self.instead.into(),
            mark: k.mark,
            source: k.source.clone(),
        }
    }
}

const EFFICIENCY: Words = Words {
    what: "field efficiency",
    used: "",
    range: "",
    instead: "acres done, divided by hours in the field, over width times speed",
};
const HOURS: Words = Words {
    what: "hours in the field a day",
    used: "h",
    range: "h",
    instead: "say how many hours the planter is in the field on a good day",
};
const SHARE: Words = Words {
    what: "share of days fit for fieldwork",
    used: "",
    range: "",
    instead: "take the share for this area and these weeks from the state's crop reports",
};
