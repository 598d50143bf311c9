//! The notch of the depth lever.

use uom::si::length::inch;

use crate::planter::{DepthLever, LeverPosition};
use crate::provenance::{Mark, Reason, sources};
use crate::quantity::{Length, Measured};

/// The notch for a depth. If the nearest one leaves the safe range, the next one inside is taken.
pub(super) fn notch(
    lever: &DepthLever,
    depth: Length,
    lost: Length,
    (low, high): (Length, Length),
) -> Option<LeverPosition> {
    let first = lever.nearest(depth, lost)?;
    let slack = 1e-6;
    let inside =
        |p: &LeverPosition| p.depth.si() >= low.si() - slack && p.depth.si() <= high.si() + slack;
    if inside(&first) {
        return Some(first);
    }
    let other = if first.depth.si() < low.si() {
        first.depth + lever.step
    } else {
        first.depth - lever.step
    };
    lever.nearest(other, lost).filter(inside).or(Some(first))
}

pub(super) fn notch_outside(position: LeverPosition, low: f64, high: f64, watch: &mut Vec<Reason>) {
    let depth = position.depth.get::<inch>();
    let number = position.notch;
    if depth < low - 1e-4 || depth > high + 1e-4 {
        watch.push(Reason::made(
            format!(
                "notch {number} gives {depth:.2} in with these discs, outside {low} to {high} in: \
                 no notch of this lever fits; new discs or another lever setting are needed"
            ),
            Mark::Derived,
            sources::GEOMETRY,
        ));
    }
}
