//! One row at work: what its wheels carry and where it puts the seed.

use domain::planter::ClosingPair;
use domain::provenance::Coefficients;
use domain::quantity::{Angle, Force, Length, Measured};
use domain::settings::forces::{Balance, arm_force, coulter_reaction, opener_reaction};

use super::super::dice::Dice;
use super::{Ground, INCH, Iron};

/// How the planter is set while it plants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::demo) struct InUse {
    /// Down force that is believed to be set, N.
    pub force: f64,
    /// Depth that the lever stands for with new discs, m.
    pub lever: f64,
    /// Speed, km/h.
    pub speed: f64,
    /// How full the hoppers are, 0 to 1.
    pub fill: f64,
    /// Seed spacing that the drive is set to, m.
    pub spacing: f64,
    /// Closing wheels.
    pub closing: ClosingPair,
}

/// A row of a planter in a field.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row<'a> {
    pub iron: &'a Iron,
    pub ground: &'a Ground,
    pub in_use: &'a InUse,
    /// The row, counted from 1.
    pub number: u16,
}

/// The heavy unit follows only part of the swing of the load: an assumption of this story.
const FOLLOWS: f64 = 0.3;
/// How much furrow bottoms vary where the stop is reached, m.
const ROUGHNESS: f64 = 0.07 * INCH;

impl Row<'_> {
    /// Everything that acts on the unit with the furrow at this depth.
    pub(super) fn balance(&self, depth: f64) -> Balance {
        let Self { iron, ground, in_use, number } = *self;
        let force = Force::from_si;
        let mut soil = ground.soil;
        if iron.behind_tyre(number) {
            soil.state *= ground.in_tracks;
        }
        let coulter = Length::from_si((depth - iron.coulter_above).max(0.0));
        let coulter = coulter_reaction(ground.coulter, coulter, soil);
        Balance {
            unit: force(iron.unit),
            seed: force(iron.seed(ground.crop, in_use.fill.min(iron.fill_most))),
            attachments: force(iron.attachments),
            down_force: force(in_use.force * iron.arrives - self.missing()),
            arms: arm_force(force(iron.draft()), Angle::from_si(iron.slope.atan())),
            opener: opener_reaction(
                ground.opener,
                Length::from_si(depth),
                soil,
                Length::from_si(iron.disc),
            ),
            coulter: if iron.coulter_on_unit { coulter } else { force(0.0) },
            cleaner: force(iron.cleaner),
            closing: force(iron.closing),
        }
    }

    /// Force that never reaches this row: speed, a lifting end, a bent arm; less what it has more.
    fn missing(&self) -> f64 {
        let reference = Coefficients::STANDARD.reference_speed.value * 1.609_344;
        let speed = self.ground.lost_to_speed * (self.in_use.speed - reference).max(0.0);
        // An end lifts by what is pushed there: without down force it stays where it is.
        let pushed = self.in_use.force.max(0.0);
        let end = if self.iron.outer(self.number) { self.iron.ends_miss.min(pushed) } else { 0.0 };
        let own = self.iron.odd_row.filter(|(row, _)| *row == self.number);
        let more = if self.iron.behind_tyre(self.number) { self.iron.behind_tyres } else { 0.0 };
        speed + end + own.map_or(0.0, |(_, missing)| missing) - more
    }

    /// Depth at which the wheels stop the opener, m.
    pub(super) fn stop(&self) -> f64 {
        let mut dice = Dice::of(&format!("stop {} {}", self.number, self.iron.rows));
        let worn = self.iron.lost + self.iron.lost_unseen;
        (self.in_use.lever - worn + dice.scatter(0.03 * INCH)).max(0.0)
    }

    /// Load on the gauge wheels with the furrow at the depth of the stop, N; negative when the
    /// unit rides out.
    pub(super) fn load(&self) -> f64 {
        self.balance(self.stop()).sum().si()
    }

    /// Depth that the opener reaches with this much more force, m: the stop, or where the soil
    /// carries the unit.
    pub(super) fn reached(&self, more: f64) -> f64 {
        let stop = self.stop();
        let left = |depth: f64| self.balance(depth).sum().si() + more;
        if left(stop) >= 0.0 {
            return stop;
        }
        let (mut shallow, mut deep) = (0.0, stop);
        for _ in 0..40 {
            let middle = f64::midpoint(shallow, deep);
            if left(middle) > 0.0 { shallow = middle } else { deep = middle }
        }
        shallow
    }

    /// Depth of one seed, m.
    pub(super) fn seed_depth(&self, dice: &mut Dice) -> f64 {
        let swing = dice.scatter(FOLLOWS * self.ground.scatter);
        (self.reached(swing) + dice.scatter(ROUGHNESS)).max(0.0)
    }
}
