//! What was reported but not used for the planter, and why.

use serde::{Deserialize, Serialize};

use super::reading::WheelFeel;
use super::scene::Scene;
use super::set_aside::Apart;
use crate::provenance::Text;

/// A reading that was not used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ignored {
    /// Which reading.
    pub what: Text,
    /// Of which rows; empty means all.
    pub rows: Vec<u16>,
    /// Why.
    pub why: Text,
}

pub(super) fn ignored(scene: &Scene<'_>) -> Vec<Ignored> {
    let mut list = Vec::new();
    let mut add = |what: &'static str, rows: Vec<u16>, why: &'static str| {
        list.push(Ignored { what: Text::Borrowed(what), rows, why: Text::Borrowed(why) });
    };
    for (why, words) in ASIDE {
        let rows: Vec<u16> = scene.aside(*why).iter().map(|s| s.row).collect();
        if !rows.is_empty() {
            add("depth and signs of these rows, for the planter as a whole", rows, words);
        }
    }
    let felt: Vec<u16> =
        scene.usual().iter().filter(|r| r.gauge_wheels.is_some()).map(|r| r.row).collect();
    if scene.logged().is_some() && !felt.is_empty() {
        add("how the gauge wheels turn", felt, "a logged load says more than a turn by hand");
    }
    let contradictory = scene.free_yet_deep();
    if !contradictory.is_empty() {
        add(
            "gauge wheels that spin free beside a deep print",
            contradictory,
            "they contradict each other: a wheel that carries nothing presses no print; the print counts, so no force is added for them; turn these wheels again, planter down",
        );
    }
    let free = scene.wheels(WheelFeel::SpinFree);
    let why = match (free.any(), free.most(), free.agreed()) {
        (true, false, _) => Some("most of the other rows carry load: a matter of these rows"),
        (true, true, false) => {
            Some("one row does not speak for the planter: turn the wheels of another")
        }
        _ => None,
    };
    if let Some(why) = why {
        add("gauge wheels that spin free", free.yes, why);
    }
    let above = scene.tally(|r| r.seed_on_bottom.map(|on| !on));
    if above.any() {
        add(
            "depth, as a measure of the furrow",
            above.yes,
            "seed above the bottom says nothing about the depth of the furrow",
        );
    }
    if scene.stats.spacing.as_ref().is_some_and(|s| s.against.is_none()) {
        add("spacing, against a rate", Vec::new(), "no wanted spacing is known");
    }
    if scene.stats.spacing.as_ref().is_some_and(|s| s.spacings < 10) {
        add(
            "spread of the spacings",
            Vec::new(),
            "fewer than ten spacings say nothing about a meter",
        );
    }
    list
}

const ASIDE: &[(Apart, &str)] = &[
    (Apart::BehindTyre, "they run behind tyres and lie shallower than the rest"),
    (Apart::Outer, "they are outer rows and lie shallower than the rest"),
    (Apart::Odd, "this row differs from the rest: a matter of that row"),
];
