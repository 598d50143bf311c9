//! Every force on a row with its range, worked out from the ranges of what it rests on.

use serde::{Deserialize, Serialize};

use super::box_states::{BoxState, Fill};
use super::need::{Lift, likely_balance, likely_coulter, likely_speed_loss};
use super::row::Row;
use super::window::Window;
use crate::quantity::{Force, Measured};
use crate::stats::{Range, Spread};

/// A force with its range.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ForceRange {
    /// Which force.
    pub force: NamedForce,
    /// 5 % of what it may be; the likely figure where that is lower still.
    pub low: Force,
    /// The figure that the sum of the trace uses.
    pub likely: Force,
    /// 95 % of what it may be; the likely figure where that is higher still.
    pub high: Force,
}

/// The forces on a row unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NamedForce {
    /// Down: the bare unit.
    UnitWeight,
    /// Down: what hangs on it.
    Attachments,
    /// Down: seed in a full hopper.
    SeedFull,
    /// Up: the openers.
    Opener,
    /// Up: the coulter on the unit.
    Coulter,
    /// Up, on the frame: a coulter that hangs there.
    FrameCoulter,
    /// Up: the row cleaner.
    Cleaner,
    /// Up: the closing wheels.
    Closing,
    /// What the arms add to the load; negative when they slope down.
    Arms,
    /// Load lost to speed.
    SpeedLoss,
    /// Low end of the window.
    WindowLow,
    /// Load to aim at.
    Aim,
    /// Load that the soil bears.
    Ceiling,
    /// Down force needed with a full hopper.
    NeedFull,
    /// Down force needed with a half-full hopper.
    NeedHalf,
    /// Down force needed with an empty hopper, or with the seed on the frame.
    NeedEmpty,
    /// Gauge-wheel load at this setting with a full hopper.
    LoadFull,
    /// Gauge-wheel load at this setting with a half-full hopper.
    LoadHalf,
    /// Gauge-wheel load at this setting with an empty hopper, or with the seed on the frame.
    LoadEmpty,
}

impl ForceRange {
    fn new(force: NamedForce, low: f64, likely: f64, high: f64) -> Self {
        // A negative zero becomes a plain one: not every database keeps it.
        let of = |newtons: f64| Force::from_si(newtons + 0.0);
        Self { force, low: of(low.min(likely)), likely: of(likely), high: of(high.max(likely)) }
    }

    /// A figure that goes in as it is.
    pub(super) fn given(force: NamedForce, range: Range) -> Self {
        Self::new(force, range.quantile(0.05), range.likely, range.quantile(0.95))
    }

    /// A figure that was worked out from others.
    pub(super) fn worked_out(force: NamedForce, likely: f64, spread: Spread) -> Self {
        // Less than a millinewton is what rounding leaves of a sum without uncertainty.
        if spread.sd() < 1e-3 {
            return Self::new(force, likely, likely, likely);
        }
        let curve = spread.curve();
        Self::new(force, curve.quantile(0.05), likely, curve.quantile(0.95))
    }
}

/// Every force on a row; the loads are those of the hopper states.
pub(super) fn force_ranges(
    row: &Row,
    lift: &Lift<'_>,
    window: &Window,
    states: &[BoxState],
) -> Vec<ForceRange> {
    use NamedForce as N;
    let mut ranges = Vec::with_capacity(20);
    ranges.push(ForceRange::given(N::UnitWeight, row.unit));
    ranges.push(ForceRange::given(N::Attachments, row.attachments));
    if row.seed_full.high > 0.0 {
        ranges.push(ForceRange::given(N::SeedFull, row.seed_full));
    }
    let balance = likely_balance(row, 0.0);
    ranges.push(ForceRange::worked_out(N::Opener, balance.opener.si(), lift.opener()));
    if let Some(coulter) = lift.coulter() {
        let name = if row.coulter_on_unit { N::Coulter } else { N::FrameCoulter };
        ranges.push(ForceRange::worked_out(name, likely_coulter(row).si(), coulter));
    }
    ranges.push(ForceRange::given(N::Cleaner, row.cleaner));
    ranges.push(ForceRange::given(N::Closing, row.closing));
    let arms = lift.arms_up().scaled(-1.0);
    ranges.push(ForceRange::worked_out(N::Arms, balance.arms.si(), arms));
    if row.faster > 0.0 {
        ranges.push(ForceRange::given(N::SpeedLoss, row.lost_to_speed.scaled(row.faster)));
    }
    let shown = &window.shown;
    ranges.push(ForceRange::worked_out(N::WindowLow, shown.low.si(), window.low));
    ranges.push(ForceRange::worked_out(N::Aim, shown.aim.si(), window.aim));
    ranges.push(ForceRange::worked_out(N::Ceiling, shown.ceiling.si(), window.ceiling));
    for state in states {
        let (need, load, share) = match state.fill {
            Fill::Full => (N::NeedFull, N::LoadFull, 1.0),
            Fill::Half => (N::NeedHalf, N::LoadHalf, 0.5),
            Fill::Empty | Fill::Central => (N::NeedEmpty, N::LoadEmpty, 0.0),
        };
        let likely = likely_balance(row, share).needed_down_force(shown.aim);
        let spread = lift.with_seed(share, None).plus(window.aim);
        ranges.push(ForceRange::worked_out(need, (likely + likely_speed_loss(row)).si(), spread));
        let (low, high) = (state.load_low.si(), state.load_high.si());
        ranges.push(ForceRange::new(load, low, state.load.si(), high));
    }
    ranges
}
