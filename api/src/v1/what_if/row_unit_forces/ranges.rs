//! How far the balance may lie from its likely figures: what was given has no width, what stood in
//! has the range of its coefficient.

use domain::provenance::{Coefficient, Coefficients};
use domain::quantity::{Force, Length, Measured, bounds};
use domain::settings::{FigureRanges, RowFigures, figure_ranges};
use domain::stats::{Range, phi_inverse};

use super::dto::RowUnitForcesIn;
use super::parse::Worked;
use super::parts::RowUnitRanges;
use crate::http::quantity::Quantity;
use crate::v1::recommendations::answer::ForceOut;
use crate::v1::recommendations::show::Show;

impl RowUnitForcesIn {
    /// The ranges of the balance, for a wanted load.
    pub(super) fn ranges(
        &self,
        worked: &Worked,
        wanted: Force,
        show: Show,
        k: &Coefficients,
    ) -> RowUnitRanges {
        let figures = self.figures(worked, k);
        let FigureRanges { parts, load, need } =
            figure_ranges(&figures, worked.balance.down_force, self.wanted(wanted, k));
        let force = |force| Quantity::show(&bounds::ROW_FORCE, force, show.0);
        RowUnitRanges {
            parts: parts.iter().map(|part| ForceOut::of(part, show)).collect(),
            gauge_wheel_load_low: force(load.0),
            gauge_wheel_load_high: force(load.1),
            down_force_needed_low: force(need.0),
            down_force_needed_high: force(need.1),
        }
    }

    /// The load that is wanted; by default it rests on the scatter of the load.
    fn wanted(&self, wanted: Force, k: &Coefficients) -> Range {
        if self.load_wanted.is_some() || self.scatter.is_some() {
            return Range::exact(wanted.si());
        }
        Range::of(&k.load_scatter).scaled(-phi_inverse(k.contact_loss_aimed.value))
    }

    fn figures(&self, worked: &Worked, k: &Coefficients) -> RowFigures {
        let Worked { balance, soil, iron } = worked;
        // Where residue does not raise the force, how much of it there is has no say.
        let rise = k.residue_force.value;
        let residue = if rise > 0.0 { (soil.residue - 1.0) / rise } else { 0.0 };
        let draft = if self.coulter_above_opener.is_some() {
            &k.draft_with_coulter
        } else {
            &k.draft_without_coulter
        };
        let coulter =
            figure(self.coulter_resistance.is_some(), iron.coulter.si(), &k.coulter_resistance);
        RowFigures {
            unit: figure(self.unit_weight.is_some(), balance.unit.si(), &k.unit_weight),
            attachments: figure(
                self.attachment_weight.is_some(),
                balance.attachments.si(),
                &k.attachment_weight,
            ),
            seed: Range::exact(balance.seed.si()),
            opener: figure(
                self.opener_resistance.is_some(),
                iron.opener.si(),
                &k.opener_resistance,
            ),
            disc: iron.disc,
            depth: iron.depth,
            coulter: iron.coulter_depth.map(|depth: Length| (coulter, depth)),
            cleaner: Range::exact(balance.cleaner.si()),
            closing: figure(self.closing_lift.is_some(), balance.closing.si(), &k.closing_lift),
            draft: figure(self.draft.is_some(), iron.draft.si(), draft),
            arm_angle: iron.angle,
            exponent: figure(self.depth_exponent.is_some(), soil.exponent, &k.depth_exponent),
            soil: figure(self.soil_state.is_some(), soil.state, &k.soil_moist),
            residue_rise: Range::of(&k.residue_force),
            residue,
        }
    }
}

fn figure(given: bool, value: f64, k: &Coefficient) -> Range {
    if given { Range::exact(value) } else { Range::of(k) }
}
