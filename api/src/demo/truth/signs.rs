//! What somebody sees and feels on a row.

use domain::conditions::Moisture;
use domain::dig::{CleanerRunning, Closure, PrintDepth, Wall, WheelFeel};
use domain::planter::ClosingPair;

use super::super::dice::Dice;
use super::row::Row;

/// Below this load wheels spin at the touch of a hand, N: an assumption of this story.
const SPINS_BELOW: f64 = 60.0;
/// Above this share of what the soil bears they cannot be turned.
const LOCKS_ABOVE: f64 = 1.1;

impl Row<'_> {
    pub(super) fn wheels(&self) -> WheelFeel {
        let load = self.load();
        if load < SPINS_BELOW {
            WheelFeel::SpinFree
        } else if load > LOCKS_ABOVE * self.ground.bears {
            WheelFeel::Locked
        } else {
            WheelFeel::TurnWithEffort
        }
    }

    pub(super) fn print(&self) -> PrintDepth {
        let load = self.load();
        if load < 2.0 * SPINS_BELOW {
            PrintDepth::None
        } else if load > self.ground.bears {
            PrintDepth::Deep
        } else {
            PrintDepth::Light
        }
    }

    pub(super) fn wall(&self) -> Wall {
        let heavy = self.load() > self.ground.bears;
        match self.ground.moisture {
            Moisture::AtCapacity => Wall::Shiny,
            Moisture::Wet if heavy || self.ground.fine() => Wall::Shiny,
            Moisture::Wet => Wall::Smooth,
            Moisture::Moist if heavy => Wall::Shiny,
            Moisture::Moist if self.ground.fine() => Wall::Smooth,
            Moisture::Moist | Moisture::SlightlyMoist | Moisture::Dry => Wall::Crumbly,
        }
    }

    /// Whether straw or cover is tucked under the seed.
    pub(super) fn tucked(&self, dice: &mut Dice) -> bool {
        let light = if self.load() < SPINS_BELOW { 2.0 } else { 1.0 };
        let damp = if self.ground.smears() { 0.025 } else { 0.005 };
        let sharp = if self.iron.cuts_clean { 0.2 } else { 1.0 };
        dice.happens(light * damp * sharp * self.ground.mat)
    }

    pub(super) fn closed(&self, dice: &mut Dice) -> Closure {
        let tough = self.ground.fine() && self.ground.smears();
        let matted = self.ground.mat > 0.8;
        let open = match self.in_use.closing {
            ClosingPair::Rubber if tough => 0.7,
            ClosingPair::Rubber if matted => 0.45,
            ClosingPair::CastIron if matted || tough => 0.35,
            ClosingPair::SpikedAndRubber | ClosingPair::TwoSpiked if tough => 0.1,
            _ if self.iron.closing_centred => 0.002,
            _ => 0.015,
        };
        let loose = self.ground.moisture <= Moisture::SlightlyMoist;
        let packed = match self.in_use.closing {
            ClosingPair::CastIron if !loose => 0.2,
            _ => 0.02,
        };
        let roll = dice.share();
        if roll < open {
            Closure::Open
        } else if roll < open + packed {
            Closure::OverPacked
        } else {
            Closure::Closed
        }
    }

    pub(super) fn cleaner(&self) -> Option<CleanerRunning> {
        self.iron.has_cleaner.then_some(if self.iron.cleaners_deep {
            CleanerRunning::BelowSurface
        } else {
            CleanerRunning::JustBrushing
        })
    }
}
