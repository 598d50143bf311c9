//! What to measure next: the observation that would narrow the answer most.

use serde::{Deserialize, Serialize};

use super::down_force::half_full;
use super::need::{Lift, Part};
use super::row::Row;
use crate::provenance::Text;

/// One thing to measure and how much it would narrow the answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NextMeasurement {
    /// What to do.
    pub measure: Text,
    /// By which share the spread of the needed down force would shrink, 0 to 1.
    pub narrows_by: f64,
}

/// What to measure next, the most telling first. Gains below 2 % are left out.
pub(super) fn measure_next(row: &Row) -> Vec<NextMeasurement> {
    let half = half_full(row);
    let lift = Lift::of(row);
    let sd = |known: Option<Part>| lift.with_seed(half, known).sd();
    let now = sd(None);
    if now <= 0.0 {
        return Vec::new();
    }
    let mut gains: Vec<NextMeasurement> = MEASUREMENTS
        .iter()
        .map(|(part, words)| NextMeasurement {
            measure: Text::Borrowed(words),
            narrows_by: 1.0 - sd(Some(*part)) / now,
        })
        .filter(|m| m.narrows_by >= 0.02)
        .collect();
    gains.sort_by(|a, b| b.narrows_by.total_cmp(&a.narrows_by));
    gains
}

const MEASUREMENTS: &[(Part, &str)] = &[
    (Part::Coulter, "pull of the coulter: lift it clear on one row and dig"),
    (Part::Opener, "pull of the opener: run one row lighter until its wheels spin free, and dig"),
    (Part::Soil, "soil strength: push a cone penetrometer through the top 3 in at ten places"),
    (Part::Weight, "weight: put one row unit with its attachments on a scale"),
    (Part::Seed, "hopper: read its content in the machine's manual"),
    (Part::Residue, "residue: count it along a tape laid across the rows"),
    (Part::Closing, "lift of the closing wheels: pull the closing frame up with a scale"),
    (Part::Arms, "slope of the arms: measure it with the planter down and no down force"),
    (Part::Speed, "cost of speed: dig once at this speed and once one mph slower"),
];
