//! What to measure next: the observation that would narrow the answer most.

use serde::{Deserialize, Serialize};

use super::choose::{AtFill, best, fills};
use super::down_force::{DownForceAdvice, half_full};
use super::need::{Lift, Part};
use super::row::Row;
use super::window::Window;
use crate::planter::DownForce;
use crate::provenance::{Coefficients, Text};
use crate::quantity::{Force, Measured, Ratio};

/// One thing to measure and how much it would narrow the answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NextMeasurement {
    /// What to do.
    pub measure: Text,
    /// By which share the range of the needed down force would shrink, 0 to 1.
    pub narrows_by: f64,
    /// The figures behind it; absent in results of engine 2026.1.
    #[serde(default)]
    pub narrowing: Option<Narrowing>,
}

/// What a measurement would do to the answer. Where the middle of the range ends up nobody knows
/// before it is made; the width is what counts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Narrowing {
    /// Low end (5 %) of the needed down force as things are, hopper half full.
    pub low_now: Force,
    /// High end (95 %).
    pub high_now: Force,
    /// Low end once it is measured, if it turns out as expected.
    pub low_then: Force,
    /// High end once it is measured.
    pub high_then: Force,
    /// Chance that the load lies in the window now, at the best setting.
    pub chance_now: f64,
    /// The same once it is measured and the setting follows.
    pub chance_then: f64,
}

/// The case in which something could be measured.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unsure<'a> {
    pub row: &'a Row,
    pub window: &'a Window,
    pub contact_loss: Option<Ratio>,
    pub source: &'a DownForce,
}

/// Less than this is not worth a walk: share of the range, or chance.
const WORTH: f64 = 0.02;

/// What to measure next, the most telling first. What gains less than 2 % is left out.
pub(super) fn measure_next(
    unsure: Unsure<'_>,
    advice: &DownForceAdvice,
    k: &Coefficients,
) -> Vec<NextMeasurement> {
    let lift = Lift::of(unsure.row);
    let levels = fills(&lift, unsure.row, unsure.window, None);
    let now = Narrowing {
        low_now: advice.need_low,
        high_now: advice.need_high,
        low_then: advice.need_low,
        high_then: advice.need_high,
        chance_now: unsure.best_chance(&levels).max(advice.chance_in_window),
        chance_then: 0.0,
    };
    if now.width_now() <= 1e-6 {
        return Vec::new();
    }
    let mut gains: Vec<NextMeasurement> = MEASUREMENTS
        .iter()
        .filter_map(|(part, words)| unsure.gain(*part, words, &lift, now, k))
        .collect();
    let chance = |m: &NextMeasurement| m.narrowing.map_or(0.0, |n| n.chance_then);
    gains.sort_by(|a, b| {
        b.narrows_by.total_cmp(&a.narrows_by).then(chance(b).total_cmp(&chance(a)))
    });
    gains
}

impl Narrowing {
    fn width_now(&self) -> f64 {
        (self.high_now - self.low_now).si()
    }
}

impl Unsure<'_> {
    /// The chance at the best setting that the source can make.
    fn best_chance(&self, levels: &[AtFill]) -> f64 {
        best(self.source, levels, f64::INFINITY, None).chance
    }

    /// What measuring a part would gain; `None` where it is not worth a walk.
    fn gain(
        &self,
        part: Part,
        words: &'static str,
        lift: &Lift<'_>,
        now: Narrowing,
        k: &Coefficients,
    ) -> Option<NextMeasurement> {
        let of_window = matches!(part, Part::Scatter | Part::Ceiling);
        let window = if of_window {
            Window::of(self.row.moisture, self.contact_loss, k, Some(part))
        } else {
            *self.window
        };
        let curve = lift.with_seed(half_full(self.row), Some(part)).plus(window.aim).curve();
        let (low, high) = (curve.quantile(0.05), curve.quantile(0.95));
        let narrows_by = (1.0 - (high - low) / now.width_now()).clamp(0.0, 1.0);
        if narrows_by < WORTH && !of_window {
            return None;
        }
        // Who knows more chooses no worse.
        let levels = fills(lift, self.row, &window, Some(part));
        let chance_then = self.best_chance(&levels).max(now.chance_now);
        let worth = narrows_by >= WORTH || chance_then - now.chance_now >= WORTH;
        worth.then(|| NextMeasurement {
            measure: Text::Borrowed(words),
            narrows_by,
            narrowing: Some(Narrowing {
                low_then: Force::from_si(low),
                high_then: Force::from_si(high),
                chance_then,
                ..now
            }),
        })
    }
}

const MEASUREMENTS: &[(Part, &str)] = &[
    (Part::Coulter, "pull of the coulter: lift it clear on one row and dig"),
    (Part::Opener, "pull of the opener: run one row lighter until its wheels spin free, and dig"),
    (Part::Soil, "soil strength: push a cone penetrometer through the top 3 in at ten places"),
    (Part::Weight, "weight: put one row unit with its attachments on a scale"),
    (Part::Seed, "hopper: read its content in the machine's manual"),
    (Part::Residue, "residue: count it along a tape laid across the rows"),
    (Part::Cleaner, "lift of the row cleaner: raise it clear on one row and dig"),
    (Part::Closing, "lift of the closing wheels: pull the closing frame up with a scale"),
    (Part::Arms, "slope of the arms: measure it with the planter down and no down force"),
    (Part::Speed, "cost of speed: dig once at this speed and once one mph slower"),
    (Part::Scatter, "scatter of the load: log the gauge-wheel load of one row over a pass"),
    (Part::Ceiling, "what this soil bears: dig one row one step heavier and look at its wall"),
];
