//! What the digs of a practice say about one field, small enough to go with a recommendation.

use serde::{Deserialize, Serialize};

use super::grid::LogDensity;
use super::learned::DigsCounted;
use super::place::Place;
use super::posterior::Posterior;
use crate::stats::Range;

/// What all digs that are known say about the resistance factor of a field, for the next pass there.
///
/// It is kept as evidence: how many times likelier each factor has become by the digs. What is known
/// of the field itself (a cone reading, the moisture felt) stays a matter of the engine; the two are
/// multiplied. Without digs the evidence is the same everywhere, and nothing changes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Lessons {
    /// Where they hold.
    pub place: Place,
    /// Digs behind them.
    pub digs: DigsCounted,
    /// The factor, all digs taken in: 5 %, middle and 95 %.
    pub factor: Range,
    /// The same without a single dig.
    pub factor_without_digs: Range,
    /// ln of how many times likelier each point of the grid has become.
    evidence: LogDensity,
}

impl Lessons {
    pub(super) fn new(place: Place, with: &Posterior, without: &Posterior) -> Self {
        Self {
            place,
            digs: with.digs,
            factor: with.range(),
            factor_without_digs: without.range(),
            evidence: with.over(without),
        }
    }

    /// Whether any dig of the practice stands behind them.
    pub fn any(&self) -> bool {
        self.digs.practice > 0
    }

    /// Chances of the steps of the grid, from what was expected of the field and what digs say.
    ///
    /// `expected` gives the share of the cases in which the factor lies below a value.
    pub(crate) fn weigh(&self, expected: impl Fn(f64) -> f64) -> Posterior {
        Posterior::weighed(expected, &self.evidence, self.digs)
    }
}
