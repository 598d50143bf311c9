//! What one mile an hour less costs, and what it gains.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::pace::{Pace, acres};
use crate::conditions::Crop;
use crate::provenance::{Input, Mark, Reason, Step, sources};
use crate::quantity::{Area, Force, Measured, Speed};
use crate::settings::say::pounds;
use crate::stand::{Loss, LossRange, LossUnit, SourcedLoss, loss_of_delay};

/// The price of driving slower, beside its gain.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PriceOfSpeed {
    /// How much slower.
    pub slower_by: Speed,
    /// Calendar days more for the area.
    pub extra_days: f64,
    /// Low end of the days more.
    pub extra_low: f64,
    /// High end of the days more.
    pub extra_high: f64,
    /// Yield lost over all the ground because it is planted later; `None` without a planting date.
    pub lost: Option<Loss>,
    /// Gauge-wheel load gained.
    pub load_gained: Option<Force>,
    /// Share of the time off the ground at the advised speed.
    pub contact_loss_from: Option<f64>,
    /// The same, slower.
    pub contact_loss_to: Option<f64>,
}

/// Compares the advised pace with a slower one.
pub(super) fn price(
    advised: &Pace,
    slower: &Pace,
    crop: Crop,
    date: Option<NaiveDate>,
    expected_yield: Option<f64>,
) -> PriceOfSpeed {
    let extra_days = (slower.calendar_days - advised.calendar_days).max(0.0);
    let gained = slower.load.zip(advised.load).map(|(after, before)| after - before);
    let days = (advised.calendar_days, advised.calendar_days + extra_days);
    PriceOfSpeed {
        slower_by: advised.speed - slower.speed,
        extra_days,
        extra_low: (slower.calendar_low - advised.calendar_low).clamp(0.0, extra_days),
        extra_high: (slower.calendar_high - advised.calendar_high).max(extra_days),
        lost: date.map(|date| loss_of_delay(crop, date, days, expected_yield)),
        load_gained: gained.map(|force| Force::from_si(force.si().max(0.0))),
        contact_loss_from: advised.contact_loss,
        contact_loss_to: slower.contact_loss,
    }
}

impl PriceOfSpeed {
    /// `one mph slower: 1.2 more days for 400 ac, about 0.5 % of yield at this date (0.3 to 0.8 %)`.
    pub(super) fn cost(&self, area: Area, expects_yield: bool) -> Reason {
        let slower = self.slower_by.si() / 0.447_04;
        let days = format!(
            "{} slower: {:.1} more days for {}",
            if (slower - 1.0).abs() < 0.05 {
                "one mph".to_owned()
            } else {
                format!("{slower:.1} mph")
            },
            self.extra_days,
            ground(area)
        );
        let said = self.lost.as_ref().and_then(loss_words);
        let (text, mark) = match (said, &self.lost) {
            (Some(loss), _) => (format!("{days}, {loss}"), Mark::Derived),
            (None, Some(_)) => {
                (format!("{days}; no published loss covers these dates"), Mark::Derived)
            }
            (None, None) => (
                format!("{days}; give a planting date for what that costs in yield"),
                Mark::Derived,
            ),
        };
        Reason::made(text, mark, self.sources(expects_yield))
    }

    /// `it gains 27 lbf of gauge-wheel load and takes contact loss from 5 to 4 %`.
    pub(super) fn gain(&self) -> Option<Reason> {
        let (gained, from, to) =
            (self.load_gained?, self.contact_loss_from?, self.contact_loss_to?);
        let text = if gained.si() < 1.0 {
            "no load is known to be gained by going slower here: what it gains is evener spacing and depth".to_owned()
        } else {
            format!(
                "it gains about {} of gauge-wheel load on each row; wheels off the ground {:.1} instead of {:.1} % of the time",
                pounds(gained),
                to * 100.0,
                from * 100.0
            )
        };
        Some(Reason::made(text, Mark::Derived, sources::LOAD_AND_SPEED))
    }

    /// The sources of the loss that is said; with an expected yield all of them speak.
    fn sources(&self, expects_yield: bool) -> String {
        let Some(loss) = &self.lost else { return sources::DEFINITION.to_owned() };
        let said = match loss.percent {
            Some(_) => LossUnit::Percent,
            None => LossUnit::BushelsPerAcre,
        };
        let speaks = |it: &&SourcedLoss| expects_yield || it.unit == said;
        let name = |it: &SourcedLoss| format!("{} {}", it.region, it.year);
        let mut named: Vec<String> = loss.by_source.iter().filter(speaks).map(name).collect();
        named.dedup();
        if named.is_empty() {
            return sources::DEFINITION.to_owned();
        }
        format!("published losses by planting date: {}", named.join(", "))
    }

    /// The step that shows the days; the loss has its own sources.
    pub(super) fn step(&self, advised: &Pace, slower: &Pace) -> Step {
        Step {
            step: "days more when slower".into(),
            formula: "calendar days slower - calendar days".into(),
            inputs: vec![
                Input::new("calendar days slower", slower.calendar_days, "d"),
                Input::new("calendar days", advised.calendar_days, "d"),
            ],
            value: self.extra_days,
            unit: "d".into(),
            low: Some(self.extra_low),
            high: Some(self.extra_high),
            source: sources::DEFINITION.into(),
            mark: Mark::Derived,
        }
    }
}

/// `400 ac (162 ha)`; small areas with one digit.
fn ground(area: Area) -> String {
    let digits = usize::from(acres(area) < 20.0);
    format!("{:.digits$} ac ({:.digits$} ha)", acres(area), area.si() / 1e4)
}

/// `about 0.5 % of yield at this date (0.3 to 0.8 %)`.
fn loss_words(loss: &Loss) -> Option<String> {
    let (range, unit) = match (loss.percent, loss.bushels) {
        (Some(percent), _) => (percent, "% of yield"),
        (None, Some(bushels)) => (bushels, "bu/ac"),
        (None, None) => return None,
    };
    let LossRange { low, high } = range;
    let middle = f64::midpoint(low, high);
    Some(if high < 0.05 {
        "no loss of yield at this date".to_owned()
    } else if middle < 0.05 {
        format!("less than {:.1} {unit} at this date", high.max(0.1))
    } else {
        format!("about {middle:.1} {unit} at this date ({:.1} to {high:.1})", low.max(0.0))
    })
}
