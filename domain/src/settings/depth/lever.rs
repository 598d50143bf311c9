//! The notch of the depth lever.

use uom::si::length::inch;

use crate::planter::{DepthLever, LeverPosition};
use crate::provenance::{Mark, Reason, sources};
use crate::quantity::{Length, Measured};
use crate::settings::say;

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

/// A difference that nobody can set or read, in metres.
const UNSEEN: f64 = 2.5e-4;

/// What to say of a notch: what it over- or undershoots, that rows differ, and a notch that fits
/// nowhere.
pub(super) fn notch_words(
    position: LeverPosition,
    wanted: Length,
    (low, high): (f64, f64),
) -> Vec<Reason> {
    let depth = position.depth.get::<inch>();
    let number = position.notch;
    let off = position.depth - wanted;
    let mut list = Vec::new();
    if off.si().abs() > UNSEEN {
        let way = if off.si() > 0.0 { "deeper" } else { "shallower" };
        let text = format!(
            "notch {number} gives {}, {} {way} than the depth to start with: it is the nearest",
            say::inches(position.depth),
            say::inches(off.abs())
        );
        list.push(Reason::made(text, Mark::Derived, sources::GEOMETRY));
    }
    if depth < low - 1e-4 || depth > high + 1e-4 {
        list.push(Reason::made(
            format!(
                "notch {number} gives {depth:.2} in with these discs, outside {low} to {high} in: \
                 no notch of this lever fits; new discs or another lever setting are needed"
            ),
            Mark::Derived,
            sources::GEOMETRY,
        ));
    }
    list.push(ROWS_DIFFER);
    list
}

const ROWS_DIFFER: Reason = Reason::fixed(
    "one notch may give other depths on other rows as gauge wheels and stops wear: compare the rows on 4 in blocks before the season",
    Mark::Read,
    sources::GEORGIA_BLOCKS,
);
