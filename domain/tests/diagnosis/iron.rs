//! Cases of soil and iron: what must be right before a setting is touched.

use domain::conditions::ResidueFeel;
use domain::dig::{Bottom, Cause, Change, CleanerRunning, PrintDepth, Wall, WheelFeel};

use super::cases::q;
use super::digs::{good, move_row};
use super::table::Case;
use super::{free, free_ends, inspects, pressed, scattered, staggered, wet};

pub(crate) const CASES: &[Case] = &[
    Case {
        cause: Cause::SoilTooWet,
        fires: || wet(good().rows(|r| r.wall = Some(Wall::Shiny))),
        proposes: |c| matches!(c, Change::Wait { .. }),
        silent: || good().rows(|r| r.wall = Some(Wall::Shiny)),
        against: || free(wet(good().rows(|r| r.wall = Some(Wall::Shiny)))),
        says: "the gauge wheels spin free",
    },
    Case {
        cause: Cause::CleanerTooDeep,
        fires: || {
            free(good().deeper(-0.5)).rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface))
        },
        proposes: |c| matches!(c, Change::CleanerHeight { .. }),
        silent: || {
            free(good().deeper(-0.5)).rows(|r| {
                if r.row < 4 {
                    r.cleaner = Some(CleanerRunning::BelowSurface);
                }
            })
        },
        against: || good().rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface)),
        says: "seed lies at depth",
    },
    Case {
        cause: Cause::CleanerWrapped,
        fires: || good().rows(|r| r.cleaner = Some(CleanerRunning::Wrapped)),
        proposes: |c| matches!(c, Change::CleanerHeight { .. }),
        silent: good,
        against: || good().rows(|r| r.cleaner = Some(CleanerRunning::Wrapped)),
        says: "seed lies at depth and the furrow is closed",
    },
    Case {
        cause: Cause::BarTooHigh,
        fires: || {
            free(good().deeper(-0.5)).with(|s| s.planter.unit.arms.angle = Some(q(8.0, "deg")))
        },
        proposes: inspects,
        silent: || {
            free(good().deeper(-0.5)).with(|s| s.planter.unit.arms.angle = Some(q(3.0, "deg")))
        },
        against: || good().with(|s| s.planter.unit.arms.angle = Some(q(8.0, "deg"))),
        says: "the gauge wheels carry load",
    },
    Case {
        cause: Cause::BarTooLow,
        fires: || pressed(good()).with(|s| s.planter.unit.arms.angle = Some(q(-8.0, "deg"))),
        proposes: inspects,
        silent: || good().with(|s| s.planter.unit.arms.angle = Some(q(-8.0, "deg"))),
        against: || {
            pressed(good().deeper(-0.5)).with(|s| s.planter.unit.arms.angle = Some(q(-8.0, "deg")))
        },
        says: "seed lies shallow",
    },
    Case {
        cause: Cause::FrameLifts,
        fires: || {
            free_ends(good()).rows(|r| {
                if r.outer {
                    move_row(r, -0.5);
                }
            })
        },
        proposes: inspects,
        silent: || free(good().deeper(-0.5)),
        against: || free_ends(good()),
        says: "seed lies as deep on the outer rows as on the others",
    },
    Case {
        cause: Cause::WornOrMisread,
        fires: || good().deeper(-0.3).with(|s| s.planter.unit.opener.measured = None),
        proposes: inspects,
        silent: || good().deeper(-0.3),
        against: || {
            good()
                .deeper(-0.3)
                .rows(|r| r.print = Some(PrintDepth::None))
                .with(|s| s.planter.unit.opener.measured = None)
        },
        says: "the wheels leave no print",
    },
    Case {
        cause: Cause::Hairpin,
        fires: || {
            good()
                .rows(|r| r.residue_in_furrow = Some(true))
                .with(|s| s.field.residue_feel = Some(ResidueFeel::Pliable))
        },
        proposes: |c| matches!(c, Change::Wait { .. }),
        silent: || good().with(|s| s.field.residue_feel = Some(ResidueFeel::Pliable)),
        against: || {
            good()
                .rows(|r| r.residue_in_furrow = Some(true))
                .with(|s| s.field.residue_feel = Some(ResidueFeel::Crisp))
        },
        says: "the residue snaps when it is bent",
    },
    Case {
        cause: Cause::DiscsApart,
        fires: || good().rows(|r| r.bottom = Some(Bottom::W)),
        proposes: inspects,
        silent: good,
        against: || good().rows(|r| r.bottom = Some(Bottom::W)),
        says: "the discs were measured and are within their limit",
    },
    Case {
        cause: Cause::SeedOffBottom,
        fires: || good().rows(|r| r.seed_on_bottom = Some(false)),
        proposes: inspects,
        silent: good,
        against: || good().rows(|r| r.seed_on_bottom = Some(false)),
        says: "seed lies evenly and at depth",
    },
    Case {
        cause: Cause::LooseUnit,
        fires: || scattered(good()).with(|s| s.settings.speed = Some(q(4.0, "[mi_i]/h"))),
        proposes: inspects,
        silent: || scattered(good()),
        against: || free(scattered(good())).with(|s| s.settings.speed = Some(q(4.0, "[mi_i]/h"))),
        says: "a light unit bounces as well",
    },
    Case {
        cause: Cause::UnevenRows,
        fires: || staggered(good()),
        proposes: inspects,
        silent: || free(staggered(good())),
        against: || staggered(good()).row(5, |r| r.gauge_wheels = Some(WheelFeel::SpinFree)),
        says: "the gauge wheels spin free on 1 of 5 rows",
    },
];
