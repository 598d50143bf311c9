//! What runs ahead of and behind the opener, worked out together.

use super::caution::{Caution, Handling, cautions};
use super::closing::{ClosingAdvice, Pass, closing};
use super::coulter::{CoulterAdvice, coulter};
use super::down_force::DownForceAdvice;
use super::row_cleaner::{RowCleanerAdvice, row_cleaner};
use super::wall::{WallAdvice, wall_risk};
use crate::conditions::Conditions;
use crate::planter::{DiscVerdict, Planter};
use crate::provenance::{Advice, Assumed, Coefficients};
use crate::quantity::{Force, Measured};

/// What runs ahead of and behind the opener, and what it leaves of the wall.
pub(super) struct Attachments {
    pub(super) coulter: Advice<CoulterAdvice>,
    pub(super) row_cleaner: Advice<RowCleanerAdvice>,
    pub(super) closing: Advice<ClosingAdvice>,
    pub(super) wall: Advice<WallAdvice>,
}

impl Attachments {
    pub(super) fn of(
        planter: &Planter,
        field: &Conditions,
        pass: Pass,
        force: &DownForceAdvice,
        k: &Coefficients,
    ) -> Self {
        let closing = closing(field, planter, pass, k);
        Self {
            coulter: coulter(field, planter.unit.coulter, k),
            row_cleaner: row_cleaner(field, planter.unit.cleaner, k),
            wall: wall_risk(field, heaviest(force), closing.choice.pair, k),
            closing,
        }
    }

    /// What nobody observed, part by part.
    pub(super) fn assumed(&self) -> [&Vec<Assumed>; 3] {
        [&self.coulter.assumed, &self.row_cleaner.assumed, &self.closing.assumed]
    }

    /// What can hurt somebody when it is handled.
    pub(super) fn cautions(&self, planter: &Planter, discs: DiscVerdict) -> Vec<Caution> {
        cautions(Handling {
            planter,
            closing: &self.closing.choice,
            coulter: &self.coulter.choice,
            row_cleaner: &self.row_cleaner.choice,
            discs,
        })
    }
}

/// The heaviest that the gauge wheels get as the hopper empties.
fn heaviest(force: &DownForceAdvice) -> Force {
    let loads = force.as_box_empties.iter().map(|state| state.load.si());
    Force::from_si(loads.fold(0.0, f64::max))
}
