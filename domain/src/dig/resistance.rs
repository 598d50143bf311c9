//! What a dig with free gauge wheels says about the soil (B1 and B2 turned round).
//!
//! With free wheels the load is 0 and the opener carries everything that the other parts leave:
//! `R_o = W_u + W_s + W_att + F_dp - H tan(theta) - R_c - R_rc - R_cl`, less what speed costs.
//! Then `K_o s_m = R_o / ((d / 50 mm)^n f_res D / 381 mm)`.

use serde::{Deserialize, Serialize};

use super::scene::Scene;
use crate::provenance::{Input, Mark, Step, Text, sources};
use crate::quantity::{Force, Length, Measured};
use crate::settings::forces::{REFERENCE_DEPTH, REFERENCE_DISC, Soil, opener_reaction};
use crate::settings::{Range, Row, likely_balance, likely_soil, likely_speed_loss, net_lift};

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

/// The balance of the dug rows, at the depth that was found.
pub(super) struct Found {
    pub row: Row,
    pub fill: f64,
    pub force: f64,
    /// Furrow depth that was found, m.
    pub depth: f64,
}

impl Found {
    /// `None` when no depth was measured, or seed does not lie on the bottom of the furrow.
    pub(super) fn of(scene: &Scene<'_>) -> Option<Self> {
        let above = scene.tally(|r| r.seed_on_bottom.map(|on| !on));
        let depth = scene.depth()?.planter.mean;
        if above.any() || depth.si() < SCRATCH {
            return None;
        }
        Some(Self::at(scene, depth))
    }

    /// The balance at some depth.
    pub(super) fn at(scene: &Scene<'_>, depth: Length) -> Self {
        let case = scene.case;
        let speed = case.speed_in_use(scene.dig);
        let row = Row::gather(case.planter, case.conditions, case.coefficients, depth, speed);
        Self {
            row,
            fill: case.fill_in_use(scene.dig),
            force: case.force_in_use(scene.dig).si(),
            depth: depth.si(),
        }
    }

    /// Opener reaction when the wheels are free: likely, 5 % and 95 %, N.
    fn opener(&self) -> (f64, f64, f64) {
        let mut balance = likely_balance(&self.row, self.fill);
        balance.down_force = Force::from_si(self.force) - likely_speed_loss(&self.row);
        let likely = balance.opener_with_free_wheels().si();
        let mut without = self.row.clone();
        without.opener = Range::exact(0.0);
        let rest = net_lift(&without, None).plus(self.row.seed_full.spread().scaled(-self.fill));
        let curve = rest.curve();
        let at = |p: f64| if rest.sd() > 1e-6 { curve.quantile(p) } else { rest.mean() };
        (likely, self.force - at(0.95), self.force - at(0.05))
    }

    /// Opener reaction for each N of `K_o s_m` at a depth.
    fn per_newton(&self, depth: f64) -> f64 {
        let soil = Soil {
            state: 1.0,
            ..likely_soil(&self.row)
        };
        opener_reaction(1.0, Length::from_si(depth), soil, Length::from_si(self.row.disc)).si()
    }

    /// The resistance that free wheels imply.
    pub(super) fn resistance(&self) -> ImpliedResistance {
        let scale = self.per_newton(self.depth).max(1e-9);
        let (likely, low, high) = self.opener();
        let (value, low, high) = (likely / scale, low / scale, high / scale);
        let least = self.row.opener_coefficient.low * self.row.soil.low;
        let most = self.row.opener_coefficient.high * self.row.soil.high;
        let (low, high) = (low.min(value), high.max(value));
        ImpliedResistance {
            value,
            low,
            high,
            least,
            most,
            plausible: high >= least && low <= most,
        }
    }

    /// How much more down force brings the load from 0 to `load` at the wanted depth.
    pub(super) fn missing_force(&self, scene: &Scene<'_>, load: Force) -> f64 {
        let resistance = self.resistance();
        let strength = resistance.value.clamp(resistance.least, resistance.most);
        let wanted = Self::at(scene, scene.case.depth_target);
        let opener = strength * (self.per_newton(wanted.depth) - self.per_newton(self.depth));
        let coulter = |found: &Self| likely_balance(&found.row, found.fill).coulter.si();
        load.si() + opener + coulter(&wanted) - coulter(self)
    }

    /// The step that shows the inversion.
    pub(super) fn step(&self) -> Step {
        let resistance = self.resistance();
        let (opener, _, _) = self.opener();
        let soil = likely_soil(&self.row);
        Step {
            step: Text::Borrowed("resistance that free wheels imply"),
            formula: Text::Borrowed("K_o s_m = R_o / ( (d / 50 mm)^n f_res D / 381 mm )"),
            inputs: vec![
                Input::new("R_o", opener, "N"),
                Input::new("d", self.depth * 1e3, "mm"),
                Input::new("d_ref", REFERENCE_DEPTH * 1e3, "mm"),
                Input::new("n", soil.exponent, "1"),
                Input::new("f_res", soil.residue, "1"),
                Input::new("D", self.row.disc * 1e3, "mm"),
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

    /// The likely load where it is known to lie above the ceiling: the mean of what is left of the
    /// estimate above it, never less than the ceiling.
    pub(super) fn load_above(&self, ceiling: Force) -> f64 {
        let lift = net_lift(&self.row, None).plus(self.row.seed_full.spread().scaled(-self.fill));
        let curve = lift.curve();
        // Load = force - lift, so a load above the ceiling is a lift below force - ceiling.
        let share = curve.below(self.force - ceiling.si());
        if lift.sd() <= 1e-6 || share < 1e-3 {
            return (self.force - lift.mean()).max(ceiling.si());
        }
        let points = 20_u32;
        let at = |i: u32| curve.quantile(share * (f64::from(i) + 0.5) / f64::from(points));
        let mean = (0..points).map(at).sum::<f64>() / f64::from(points);
        (self.force - mean).max(ceiling.si())
    }
}
