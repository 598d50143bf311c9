//! The work that a recommendation is part of.

use serde::{Deserialize, Serialize};

use crate::quantity::{Area, Ratio};

/// How much is to be planted, and how a day in the field goes. What is not given is assumed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Work {
    /// Area to plant at this pace: the field, or all that this planter still has to do.
    pub area: Option<Area>,
    /// Share of the time in the field in which the planter plants.
    pub efficiency: Option<Ratio>,
    /// Hours in the field on a day that is fit, 0.5 to 24.
    pub hours_a_day: Option<f64>,
    /// Share of the calendar days that are fit for fieldwork.
    pub suitable_share: Option<Ratio>,
    /// Yield to expect if planted in good time, bushels an acre, 1 to 400.
    pub expected_yield_bu_ac: Option<f64>,
}
