//! Cases of settings, single rows, closing and seed.

use domain::conditions::Moisture;
use domain::dig::{Cause, Change, Closure, PrintDepth, Wall, WheelFeel};
use domain::planter::ClosingPair;
use domain::quantity::Measured;

use super::cases::q;
use super::digs::{good, inches, move_row};
use super::table::Case;
use super::{free, inspects, pressed, scattered, uneven};

pub(crate) const CASES: &[Case] = &[
    Case {
        cause: Cause::TooMuchForce,
        fires: || {
            good().rows(|r| {
                r.gauge_wheels = Some(WheelFeel::Locked);
                r.print = Some(PrintDepth::Deep);
                r.wall = Some(Wall::Smooth);
            })
        },
        proposes: |c| matches!(c, Change::DownForce { by, .. } if by.si() < 0.0),
        silent: || good().rows(|r| r.print = Some(PrintDepth::Deep)),
        against: || pressed(good()).rows(|r| r.wall = Some(Wall::Crumbly)),
        says: "the wall of the furrow crumbles",
    },
    Case {
        cause: Cause::TooLittleForce,
        fires: || free(good().deeper(-0.5)),
        proposes: |c| matches!(c, Change::DownForce { by, .. } if by.si() > 0.0),
        silent: || good().deeper(-0.5),
        against: || free(good()),
        says: "seed lies at depth",
    },
    Case {
        cause: Cause::TooFast,
        fires: || scattered(good()).with(|s| s.settings.speed = Some(q(6.5, "[mi_i]/h"))),
        proposes: |c| matches!(c, Change::Speed { .. }),
        silent: || good().with(|s| s.settings.speed = Some(q(6.5, "[mi_i]/h"))),
        against: || free(scattered(good())).with(|s| s.settings.speed = Some(q(6.5, "[mi_i]/h"))),
        says: "the gauge wheels spin free",
    },
    Case {
        cause: Cause::LeverOff,
        fires: || good().deeper(0.5),
        proposes: |c| matches!(c, Change::Depth { from, to, .. } if to < from),
        silent: || good().deeper(0.1),
        against: || good().deeper(0.6).rows(|r| move_row(r, 0.1 * (f64::from(r.row) - 4.0))),
        says: "the rows differ by more than half the tolerance",
    },
    Case {
        cause: Cause::DrySeedZone,
        fires: || good().rows(|r| r.moist_at_seed = Some(false)),
        proposes: |c| matches!(c, Change::Depth { from, to, .. } if to > from),
        silent: || good().row(2, |r| r.moist_at_seed = Some(false)),
        against: || {
            good()
                .rows(|r| r.moist_at_seed = Some(false))
                .with(|s| s.field.moisture = Some(Moisture::Moist))
        },
        says: "the field report says that the soil is moist",
    },
    Case {
        cause: Cause::TyreTracks,
        fires: || {
            good().row(4, |r| {
                r.gauge_wheels = Some(WheelFeel::SpinFree);
                move_row(r, -0.5);
            })
        },
        proposes: |c| matches!(c, Change::Inspect { rows, .. } if rows == &[4]),
        silent: || free(good().deeper(-0.5)),
        against: || good().row(4, |r| r.gauge_wheels = Some(WheelFeel::SpinFree)),
        says: "seed lies there as elsewhere",
    },
    Case {
        cause: Cause::OddRow,
        fires: || good().row(5, |r| move_row(r, -0.6)),
        proposes: |c| matches!(c, Change::Inspect { rows, .. } if rows == &[5]),
        silent: || good().row(5, |r| move_row(r, -0.1)),
        against: || good().row(5, |r| r.gauge_wheels = Some(WheelFeel::SpinFree)),
        says: "seed lies there as deep as on the others",
    },
    Case {
        cause: Cause::ClosingTooMild,
        fires: || {
            good()
                .rows(|r| {
                    r.closed = Some(Closure::Open);
                    r.wall = Some(Wall::Smooth);
                })
                .with(|s| {
                    s.planter.unit.closing = ClosingPair::Rubber;
                    s.planter.closing_owned = vec![ClosingPair::TwoSpiked];
                })
        },
        proposes: |c| {
            matches!(c, Change::ClosingWheels { to: ClosingPair::TwoSpiked, owned: true })
        },
        silent: || good().rows(|r| r.wall = Some(Wall::Smooth)),
        against: || {
            good().deeper(-0.4).rows(|r| {
                r.closed = Some(Closure::Open);
                r.wall = Some(Wall::Smooth);
            })
        },
        says: "closing wheels work best near 2 in",
    },
    Case {
        cause: Cause::ClosingOffCentre,
        fires: || good().rows(|r| r.closed = Some(Closure::Open)),
        proposes: inspects,
        silent: || {
            good().rows(|r| {
                r.closed = Some(Closure::Open);
                r.wall = Some(Wall::Smooth);
            })
        },
        against: || {
            good().rows(|r| {
                r.closed = Some(Closure::Open);
                r.wall = None;
            })
        },
        says: "nobody looked at the walls",
    },
    Case {
        cause: Cause::ClosingTooHard,
        fires: || good().rows(|r| r.closed = Some(Closure::OverPacked)),
        proposes: |c| matches!(c, Change::ClosingSpring { .. }),
        silent: || good().row(2, |r| r.closed = Some(Closure::OverPacked)),
        against: || good().rows(|r| r.closed = Some(Closure::OverPacked)),
        says: "the wall of the furrow crumbles",
    },
    Case {
        cause: Cause::SpacingTooFast,
        fires: || uneven(good()).with(|s| s.settings.speed = Some(q(7.0, "[mi_i]/h"))),
        proposes: |c| matches!(c, Change::Speed { .. }),
        silent: || uneven(good()),
        against: || uneven(good()).with(|s| s.settings.speed = Some(q(7.0, "[mi_i]/h"))),
        says: "the units ride quietly",
    },
    Case {
        cause: Cause::Meter,
        fires: || uneven(good()),
        proposes: inspects,
        silent: good,
        against: || uneven(good()).with(|s| s.settings.speed = Some(q(7.0, "[mi_i]/h"))),
        says: "slow down first",
    },
    Case {
        cause: Cause::RateOff,
        fires: || good().rows(|r| r.spacings = inches(&[6.9, 7.1, 7.0, 6.8, 7.2])),
        proposes: inspects,
        silent: || good().rows(|r| r.spacings = inches(&[6.2, 6.4, 6.3, 6.1, 6.5])),
        against: || good().rows(|r| r.spacings = inches(&[7.0, 18.0, 12.0, 6.5, 17.0])),
        says: "skips and doubles may explain it",
    },
];
