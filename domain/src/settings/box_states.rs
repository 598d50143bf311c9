//! What the gauge wheels carry as the hopper empties.

use serde::{Deserialize, Serialize};

use super::forces::contact_loss;
use super::need::{Lift, likely_balance, likely_speed_loss};
use super::row::Row;
use super::window::LoadWindow;
use crate::provenance::{Coefficients, Text};
use crate::quantity::{Force, Measured};

/// How full a hopper is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fill {
    /// Full.
    Full,
    /// Half full.
    Half,
    /// Empty.
    Empty,
    /// Seed is carried on the frame.
    Central,
}

/// The gauge-wheel load at one level of the hopper.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BoxState {
    /// The level.
    pub fill: Fill,
    /// The likely load; 0 when the unit rides out.
    pub load: Force,
    /// Low end (5 %) of what it may be.
    pub load_low: Force,
    /// High end (95 %) of what it may be.
    pub load_high: Force,
    /// Share of the time that a wheel may be off the ground, at the likely load.
    pub contact_loss: f64,
    /// What to do about it, where something is to be done.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub note: Option<Text>,
}

/// The load at each level of the hopper, at one down force.
pub(super) fn box_states(
    row: &Row,
    lift: &Lift<'_>,
    window: &LoadWindow,
    force: Force,
    k: &Coefficients,
) -> Vec<BoxState> {
    let levels: &[(Fill, f64)] = if row.seed_full.likely > 0.0 {
        &[(Fill::Full, 1.0), (Fill::Half, 0.5), (Fill::Empty, 0.0)]
    } else {
        &[(Fill::Central, 0.0)]
    };
    let state = |(fill, share): &(Fill, f64)| {
        let mut balance = likely_balance(row, *share);
        balance.down_force = force - likely_speed_loss(row);
        let load = balance.gauge_wheel_load();
        let curve = lift.with_seed(*share, None).curve();
        let less = |p: f64| Force::from_si((force.si() - curve.quantile(p)).max(0.0));
        BoxState {
            fill: *fill,
            load,
            load_low: less(0.95),
            load_high: less(0.05),
            contact_loss: contact_loss(load, Force::from_si(k.load_scatter.value)),
            note: note(*fill, load, window),
        }
    };
    levels.iter().map(state).collect()
}

fn note(fill: Fill, load: Force, window: &LoadWindow) -> Option<Text> {
    if load.si() <= 0.0 {
        return Some(Text::Borrowed("the unit rides out: depth is lost"));
    }
    if load > window.ceiling {
        return Some(Text::Borrowed(match fill {
            Fill::Full => {
                "above the ceiling: fine while the wall stays crumbly; drop one step if it shines"
            }
            Fill::Half | Fill::Empty | Fill::Central => {
                "above the ceiling: look at the wall; drop one step if it shines"
            }
        }));
    }
    if load < window.low {
        return Some(Text::Borrowed(match fill {
            Fill::Empty => "light: raise one step or refill before the hopper runs low",
            Fill::Full | Fill::Half | Fill::Central => {
                "light: wheels leave the ground too often; slow down or raise one step"
            }
        }));
    }
    None
}
