//! The balance of rows that were planted and dug: what was set, and the depth that came of it.
//!
//! The dig check turns the balance round (B1 and B2) to learn what the soil asked for.

use super::forces::{Soil, opener_reaction};
use super::need::{Lift, likely_balance, likely_soil, likely_speed_loss};
use super::row::Row;
use super::taught_row::Scale;
use crate::conditions::Conditions;
use crate::learning::{Lessons, Posterior};
use crate::planter::Planter;
use crate::provenance::{Assumed, Coefficients};
use crate::quantity::{Force, Length, Measured, Speed};
use crate::stats::Range;

/// A row at the depth that was found, with what was set while it was planted.
pub(crate) struct DugRow {
    row: Row,
    /// Share of the hopper that was full.
    fill: f64,
    /// Down force, N.
    force: f64,
}

/// What was set while the row was planted.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AsSet {
    pub down_force: Force,
    pub speed: Speed,
    pub box_share: f64,
}

impl DugRow {
    /// Gathers the balance of a row at a depth.
    pub(crate) fn at(
        planter: &Planter,
        field: &Conditions,
        k: &Coefficients,
        depth: Length,
        set: AsSet,
    ) -> Self {
        Self {
            row: Row::gather(planter, field, k, depth, set.speed),
            fill: set.box_share,
            force: set.down_force.si(),
        }
    }

    /// Opener reaction when the wheels are free, N: likely, 5 % and 95 %.
    ///
    /// The opener then carries all that the other parts leave.
    pub(crate) fn opener_when_free(&self) -> Range {
        let mut balance = likely_balance(&self.row, self.fill);
        balance.down_force = Force::from_si(self.force) - likely_speed_loss(&self.row);
        let likely = balance.opener_with_free_wheels().si();
        let mut others = self.row.clone();
        others.opener = Range::exact(0.0);
        let rest = Lift::of(&others).with_seed(self.fill, None);
        let curve = rest.curve();
        let at = |p: f64| if rest.sd() > 1e-6 { curve.quantile(p) } else { rest.mean() };
        let (low, high) = (self.force - at(0.95), self.force - at(0.05));
        Range::new(low.min(likely), likely, high.max(likely))
    }

    /// Opener reaction for each newton of `K_o s_m` at this depth.
    pub(crate) fn opener_per_newton(&self) -> f64 {
        let soil = Soil { state: 1.0, ..likely_soil(&self.row) };
        let depth = Length::from_si(self.row.depth);
        opener_reaction(1.0, depth, soil, Length::from_si(self.row.disc)).si()
    }

    /// Likely reaction of a coulter on the unit at this depth, N.
    pub(crate) fn coulter(&self) -> f64 {
        likely_balance(&self.row, self.fill).coulter.si()
    }

    /// What `K_o s_m` can be in soil of this state, N.
    pub(crate) fn possible_resistance(&self) -> Range {
        let (k, s) = (self.row.opener_coefficient, self.row.soil.range);
        Range::new(k.low * s.low, k.likely * s.likely, k.high * s.high)
    }

    /// Exponent of depth, residue factor and disc diameter in m that were used.
    pub(crate) fn factors(&self) -> (f64, f64, f64) {
        let soil = likely_soil(&self.row);
        (soil.exponent, soil.residue, self.row.disc)
    }

    /// The resistance factor, by the conditions and by lessons.
    pub(crate) fn factor(&self, lessons: Option<&Lessons>) -> Posterior {
        let lift = Lift::of(&self.row).with_seed(self.fill, None);
        let scale = Scale::of(&self.row, self.fill);
        match lessons {
            Some(lessons) => scale.posterior(lift, lessons),
            None => scale.expected(lift),
        }
    }

    /// What stood in for observations.
    pub(crate) fn into_assumed(self) -> Vec<Assumed> {
        self.row.assumed
    }
}
