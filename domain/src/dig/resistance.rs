//! What a dig with free gauge wheels says about the soil (B1 and B2 turned round).
//!
//! With free wheels the load is 0 and the opener carries everything that the other parts leave:
//! `R_o = W_u + W_s + W_att + F_dp - H tan(theta) - R_c - R_rc - R_cl`, less what speed costs.
//! Then `K_o s_m = R_o / ((d / 50 mm)^n f_res D / 381 mm)`.

use serde::{Deserialize, Serialize};

use super::scene::Scene;
use crate::provenance::{Input, Mark, Step, Text, sources};
use crate::quantity::{Length, Measured};
use crate::settings::forces::{REFERENCE_DEPTH, REFERENCE_DISC};
use crate::settings::{AsSet, DugRow};

/// Below this a furrow is a scratch, and its depth says nothing about resistance, m.
const SCRATCH: f64 = 0.012;

/// The resistance that a dig implies, N at 50 mm in the state the soil was in (`K_o s_m`).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ImpliedResistance {
    /// With every other part at its likely figure. Negative when the other parts carry more than
    /// all the weight.
    pub value: f64,
    /// Low end (5 %) over what is uncertain in the other parts.
    pub low: f64,
    /// High end (95 %).
    pub high: f64,
    /// Low end of what soil in this state can be.
    pub least: f64,
    /// High end of it.
    pub most: f64,
    /// Whether the two ranges meet at all.
    pub plausible: bool,
}

/// The balance of the rows that speak for the planter, at a depth.
pub(super) fn row_at(scene: &Scene<'_>, depth: Length) -> DugRow {
    let case = scene.case;
    let set = AsSet {
        down_force: case.force_in_use(scene.dig),
        speed: case.speed_in_use(scene.dig),
        box_share: scene.dig.box_share(),
    };
    DugRow::at(case.planter, case.conditions, case.coefficients, depth, set)
}

/// The furrow depth that was found, with its balance.
pub(super) struct Found {
    row: DugRow,
    depth: Length,
}

impl Found {
    /// `None` when no depth was measured, or seed does not lie on the bottom of the furrow.
    pub(super) fn of(scene: &Scene<'_>) -> Option<Self> {
        let above = scene.tally(|r| r.seed_on_bottom.map(|on| !on));
        let depth = scene.depth()?.planter.mean;
        let measured = !above.any() && depth.si() >= SCRATCH;
        measured.then(|| Self { row: row_at(scene, depth), depth })
    }

    /// The resistance that free wheels imply.
    pub(super) fn resistance(&self) -> ImpliedResistance {
        let scale = self.row.opener_per_newton().max(1e-9);
        let opener = self.row.opener_when_free();
        let possible = self.row.possible_resistance();
        let (low, high) = (opener.low / scale, opener.high / scale);
        ImpliedResistance {
            value: opener.likely / scale,
            low,
            high,
            least: possible.low,
            most: possible.high,
            plausible: high >= possible.low && low <= possible.high,
        }
    }

    /// The step that shows the inversion.
    pub(super) fn step(&self) -> Step {
        let resistance = self.resistance();
        let (exponent, residue, disc) = self.row.factors();
        Step {
            step: Text::Borrowed("resistance that free wheels imply"),
            formula: Text::Borrowed("K_o s_m = R_o / ( (d / d_ref)^n f_res D / D_ref )"),
            inputs: vec![
                Input::new("R_o", self.row.opener_when_free().likely, "N"),
                Input::new("d", self.depth.si() * 1e3, "mm"),
                Input::new("d_ref", REFERENCE_DEPTH * 1e3, "mm"),
                Input::new("n", exponent, "1"),
                Input::new("f_res", residue, "1"),
                Input::new("D", disc * 1e3, "mm"),
                Input::new("D_ref", REFERENCE_DISC * 1e3, "mm"),
            ],
            value: resistance.value,
            unit: Text::Borrowed("N"),
            low: Some(resistance.low),
            high: Some(resistance.high),
            source: Text::Borrowed(sources::STATICS),
            mark: Mark::Derived,
        }
    }
}
