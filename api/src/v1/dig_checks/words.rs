//! The words of a dig check on the wire.

use crate::v1::mirror::mirror;

mirror! {
    /// How the gauge wheels turn by hand, planter down and stopped: they `spin_free` and carry
    /// nothing, `turn_with_effort` by about a quarter turn, or are `locked`.
    GaugeWheelFeel = domain::dig::WheelFeel { SpinFree TurnWithEffort Locked }

    /// The print of the gauge wheels beside the furrow: none, the tread shows, or pressed in.
    WheelPrint = domain::dig::PrintDepth { None Light Deep }

    /// The wall of the furrow: it falls apart, is smooth but breaks, or is smeared and shiny.
    FurrowWall = domain::dig::Wall { Crumbly Smooth Shiny }

    /// The bottom of the furrow, seen across the row: one clean `v`, or a `w` with a ridge.
    FurrowBottom = domain::dig::Bottom { V W }

    /// How the furrow is closed over the seed: `closed` and easily opened with a small tool,
    /// `open`, or `over_packed` into clods or a crust.
    FurrowClosure = domain::dig::Closure { Closed Open OverPacked }

    /// How the row cleaner runs: it just brushes, digs below the soil surface, or is wrapped.
    CleanerRunning = domain::dig::CleanerRunning { JustBrushing BelowSurface Wrapped }

    /// What may be wrong.
    DigCause = domain::dig::Cause {
        SoilTooWet CleanerTooDeep CleanerWrapped FrameLifts BarTooHigh BarTooLow WornOrMisread
        Hairpin DiscsApart SeedOffBottom LooseUnit UnevenRows TooMuchForce TooLittleForce TooFast
        LeverOff DrySeedZone TyreTracks OddRow ClosingTooMild ClosingOffCentre ClosingTooHard
        SpacingTooFast Meter RateOff
    }

    /// The order in which causes are dealt with: soil, iron, settings, single rows, closing, seed.
    FindingClass = domain::dig::Class { Soil Mechanical Setting SomeRows Closing Seed }

    /// How well the readings carry a cause: two or more for it and none against (`strong`), more
    /// for it than against (`likely`), or as much against it or more (`possible`).
    FindingStrength = domain::dig::Strength { Strong Likely Possible }

    /// A warning about a number of the proposal.
    ProposalFlag = domain::dig::Flag {
        ImplausibleResistance HeldToLargestStep HeldToOneNotch HeldToReach HeldByFrame Uncalibrated
    }

    /// Which way to move a spring: one step.
    SpringMove = domain::dig::SpringMove { Lighter Tighter }

    /// Why a row does not speak for the planter.
    SetAsideReason = domain::dig::Apart { BehindTyre Outer Odd }

    /// Where the mean depth lies against the tolerance, with its whole interval: `inside`,
    /// `shallow`, `deep`, or `open` when the interval reaches over an edge or there is none.
    DepthSide = domain::dig::Side { Inside Shallow Deep Open }

    /// What is to be known about a dig.
    ///
    /// `dug_before_issue`: it was dug more than 15 minutes before its settings were issued.
    /// `settings_not_reported`: so it was, and it does not say what was set, so no change of that is
    /// proposed. `revision_replaced`: a later revision counts; no change waits for a decision.
    /// `same_readings`: they came before with another place or other notes, and count once.
    /// `resembles_another`: another dig has the same time and rows, with other readings.
    /// `rows_picked`: the rows were not chosen as the plan asked. `unit_doubtful`: the depths are
    /// next to nothing, and would be usual in another unit.
    DigNoticeCode = domain::dig::NoticeCode {
        DugBeforeIssue SettingsNotReported RevisionReplaced SameReadings ResemblesAnother RowsPicked
        UnitDoubtful
    }
}
