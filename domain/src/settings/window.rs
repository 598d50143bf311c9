//! The window in which the gauge-wheel load should be (B5).

use serde::{Deserialize, Serialize};

use super::forces::load_for_loss;
use crate::conditions::Moisture;
use crate::provenance::{Coefficient, Coefficients, Input, Step, Text, sources};
use crate::quantity::{Force, Measured};

/// Light enough not to smear, heavy enough to stay down.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LoadWindow {
    /// Low end: the load that keeps contact, or, without room, the lightest class.
    pub low: Force,
    /// Load at which wheels lose contact as often as is tolerated, whatever the soil bears.
    pub contact: Force,
    /// The load to aim at.
    pub aim: Force,
    /// Most that this moisture bears without smearing the wall.
    pub ceiling: Force,
    /// Whether there is room between contact and smearing. Without room no force is right.
    pub room: bool,
}

/// The ceiling that belongs to a moisture class. Wetter never bears more.
pub(super) fn ceiling(moisture: Moisture, k: &Coefficients) -> &Coefficient {
    match moisture {
        Moisture::Wet | Moisture::AtCapacity => &k.ceiling_wet,
        // Slightly moist soil is taken as moist: the lighter ceiling is the safer one.
        Moisture::Moist | Moisture::SlightlyMoist => &k.ceiling_moist,
        Moisture::Dry => &k.ceiling_dry,
    }
}

/// The window for a moisture class.
pub fn load_window(moisture: Moisture, k: &Coefficients) -> LoadWindow {
    let scatter = Force::from_si(k.load_scatter.value);
    let top = Force::from_si(ceiling(moisture, k).value);
    let wanted = load_for_loss(k.contact_loss_aimed.value, scatter);
    let least = load_for_loss(k.contact_loss_tolerated.value, scatter);
    let floor = Force::from_si(k.least_load.value);
    let room = least < top;
    LoadWindow {
        low: if room { least.max(floor) } else { floor },
        contact: least.max(floor),
        aim: wanted.max(floor).min(top),
        ceiling: top,
        room,
    }
}

/// The step of the trace that shows how the aim was found.
pub(super) fn window_step(window: &LoadWindow, moisture: Moisture, k: &Coefficients) -> Step {
    let top = ceiling(moisture, k);
    Step {
        step: Text::Borrowed("gauge-wheel load to aim at"),
        formula: Text::Borrowed("min( max( G_min, z(p_aim) sigma ), G_max )"),
        inputs: vec![
            Input::new("G_min", k.least_load.value, "N"),
            Input::new("p_aim", k.contact_loss_aimed.value, "1"),
            Input::new("sigma", k.load_scatter.value, "N"),
            Input::new("G_max", top.value, "N"),
        ],
        value: window.aim.si(),
        unit: Text::Borrowed("N"),
        low: Some(window.low.si()),
        high: Some(window.ceiling.si()),
        source: Text::Borrowed(sources::HANNA_2010),
        mark: top.mark,
    }
}
