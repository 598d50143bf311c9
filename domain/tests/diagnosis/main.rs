//! The diagnosis of a dig: one worked case for each rule, a near case in which it must stay silent, a
//! case with readings against it, and what holds for any dig.

#[path = "../cases/mod.rs"]
mod cases;
mod depth;
#[path = "../digs/mod.rs"]
mod digs;
mod ends;
mod force;
mod iron;
mod laws;
mod order;
mod settings;
mod table;

use digs::{Setup, good_row, inches, move_row};
use domain::conditions::{BallTest, Moisture};
use domain::dig::{Change, PrintDepth, Wall, WheelFeel};

pub(crate) fn free(setup: Setup) -> Setup {
    setup.rows(|r| {
        r.gauge_wheels = Some(WheelFeel::SpinFree);
        r.print = Some(PrintDepth::None);
    })
}

pub(crate) fn scattered(setup: Setup) -> Setup {
    setup.rows(|r| r.seed_depths = inches(&[1.4, 2.6, 1.5, 2.5, 2.0, 2.0]))
}

pub(crate) fn uneven(setup: Setup) -> Setup {
    setup.rows(|r| r.spacings = inches(&[1.0, 12.5, 6.0, 0.5, 10.75]))
}

pub(crate) fn inspects(change: &Change) -> bool {
    matches!(change, Change::Inspect { .. })
}

pub(crate) fn wet(setup: Setup) -> Setup {
    setup.with(|s| {
        s.field.moisture = Some(Moisture::Wet);
        s.field.ball = Some(BallTest::Deforms);
    })
}

/// Wheels that carry too much, and the marks that they leave.
pub(crate) fn pressed(setup: Setup) -> Setup {
    setup.rows(|r| {
        r.gauge_wheels = Some(WheelFeel::Locked);
        r.print = Some(PrintDepth::Deep);
        r.wall = Some(Wall::Smooth);
    })
}

/// Both ends were dug, and only there do the wheels spin free and leave no print.
pub(crate) fn free_ends(setup: Setup) -> Setup {
    setup.with(|s| s.rows.push(good_row(8))).rows(|r| {
        r.outer = r.row == 1 || r.row == 8;
        if r.outer {
            r.gauge_wheels = Some(WheelFeel::SpinFree);
            r.print = Some(PrintDepth::None);
        }
    })
}

/// Rows that carry load and lie at depths of their own, none of them odd.
pub(crate) fn staggered(setup: Setup) -> Setup {
    let by = |row: u16| match row {
        1 => 0.3,
        2 => -0.6,
        4 => 0.6,
        5 => -0.3,
        _ => 0.0,
    };
    setup.rows(|r| move_row(r, by(r.row)))
}
