//! The window in which the gauge-wheel load should be (B5).
//!
//! Its edges are uncertain too: the scatter of the load, the least load and the ceiling of the
//! moisture each have a range. The figures shown are the likely ones; the chance of being in the
//! window goes over the ranges.

use serde::{Deserialize, Serialize};

use super::need::Part;
use crate::conditions::Moisture;
use crate::provenance::{Coefficient, Coefficients, Input, Step, Text, sources};
use crate::quantity::{Force, Measured, Ratio};
use crate::stats::{Range, Spread, phi_inverse};

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
    /// How far each edge may lie from the figure shown; absent in results of engine 2026.1.
    #[serde(default)]
    pub edges: Option<WindowEdges>,
}

/// How sure the edges of the window are, and the chances of losing contact that they stand for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WindowEdges {
    /// Share of the time a wheel may be off the ground at the load to aim at.
    pub aimed_loss: f64,
    /// The same at the low end of the window.
    pub tolerated_loss: f64,
    /// 5 % of what the low end may be.
    pub low_from: Force,
    /// 95 % of what the low end may be.
    pub low_to: Force,
    /// 5 % of what the soil may bear.
    pub ceiling_from: Force,
    /// 95 % of what the soil may bear.
    pub ceiling_to: Force,
}

/// The window with the distributions of its edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Window {
    /// The likely figures.
    pub shown: LoadWindow,
    /// The low end, N.
    pub low: Spread,
    /// The load to aim at, N.
    pub aim: Spread,
    /// The ceiling, N.
    pub ceiling: Spread,
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

/// Chances of losing contact, aimed at and tolerated. Who aims higher or lower than usual also
/// tolerates more or less, in the same proportion.
fn losses(wanted: Option<Ratio>, k: &Coefficients) -> (f64, f64) {
    let (aimed, tolerated) = (k.contact_loss_aimed.value, k.contact_loss_tolerated.value);
    wanted.map_or((aimed, tolerated), |p| (p.si(), (p.si() * tolerated / aimed).min(0.5)))
}

/// The window for a moisture class, at a chosen chance of losing contact or the usual one.
pub fn load_window(moisture: Moisture, loss: Option<Ratio>, k: &Coefficients) -> LoadWindow {
    Window::of(moisture, loss, k, None).shown
}

impl Window {
    /// The window for a moisture class. With `known`, that part is held at its likely figure.
    pub(super) fn of(
        moisture: Moisture,
        loss: Option<Ratio>,
        k: &Coefficients,
        known: Option<Part>,
    ) -> Self {
        let (aimed, tolerated) = losses(loss, k);
        let held = |part: Part, range: Range| {
            if known == Some(part) { Range::exact(range.likely) } else { range }
        };
        let scatter = held(Part::Scatter, Range::of(&k.load_scatter));
        let top = held(Part::Ceiling, Range::of(ceiling(moisture, k)));
        let floor = Range::of(&k.least_load);
        let scatter_at = |p: f64| scatter.scaled(-phi_inverse(p));
        let (wanted, least) = (scatter_at(aimed), scatter_at(tolerated));
        let room = least.likely < top.likely;
        let low = if room { greater(least, floor) } else { floor.spread() };
        let contact = least.likely.max(floor.likely);
        let shown = LoadWindow {
            low: Force::from_si(if room { contact } else { floor.likely }),
            contact: Force::from_si(contact),
            aim: Force::from_si(wanted.likely.max(floor.likely).min(top.likely)),
            ceiling: Force::from_si(top.likely),
            room,
            edges: Some(edges((aimed, tolerated), low, top)),
        };
        Self { shown, low, aim: aim(wanted, floor, top), ceiling: top.spread() }
    }
}

fn edges((aimed_loss, tolerated_loss): (f64, f64), low: Spread, top: Range) -> WindowEdges {
    let curve = low.curve();
    WindowEdges {
        aimed_loss,
        tolerated_loss,
        low_from: Force::from_si(curve.quantile(0.05)),
        low_to: Force::from_si(curve.quantile(0.95)),
        ceiling_from: Force::from_si(top.quantile(0.05)),
        ceiling_to: Force::from_si(top.quantile(0.95)),
    }
}

/// The greater of two independent numbers.
fn greater(one: Range, other: Range) -> Spread {
    if one.low >= other.high {
        return one.spread();
    }
    let (low, high) = (one.low.max(other.low), one.high.max(other.high));
    Spread::by_tail(low, high, |t| 1.0 - one.below(t) * other.below(t))
}

/// `min( max(wanted, floor), top )` of three independent numbers.
fn aim(wanted: Range, floor: Range, top: Range) -> Spread {
    let low = wanted.low.max(floor.low).min(top.low);
    let high = wanted.high.max(floor.high).min(top.high);
    let above = |t: f64| (1.0 - wanted.below(t) * floor.below(t)) * (1.0 - top.below(t));
    Spread::by_tail(low, high, above)
}

/// The step of the trace that shows how the aim was found.
pub(super) fn window_step(window: &LoadWindow, moisture: Moisture, k: &Coefficients) -> Step {
    let top = ceiling(moisture, k);
    let aimed = window.edges.map_or(k.contact_loss_aimed.value, |e| e.aimed_loss);
    Step {
        step: Text::Borrowed("gauge-wheel load to aim at"),
        formula: Text::Borrowed("min( max( G_min, z(p_aim) sigma ), G_max )"),
        inputs: vec![
            Input::new("G_min", k.least_load.value, "N"),
            Input::new("p_aim", aimed, "1"),
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
