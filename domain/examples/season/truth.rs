//! The mechanics of the hidden truth: the same statics, other numbers.

use domain::learning::need_of_row;
use domain::provenance::Coefficient;
use domain::quantity::{Force, Length, Measured};
use domain::settings::{Inputs, LoadWindow};

use crate::dice::Dice;
use crate::field::{Ground, K, POUND};
use crate::iron::Iron;

impl Ground {
    /// The ground of a field whose resistance is `factor` times what the engine takes as likely at
    /// 50 mm.
    pub(crate) fn of(id: u64, inputs: &Inputs, window: LoadWindow, factor: f64) -> Self {
        let mut dice = Dice::of(id, 4);
        let at = |planter| {
            let depth = Length::from_si(0.050);
            let speed = inputs.goals.speed.unwrap_or_default();
            need_of_row(planter, &inputs.field, &K, depth, speed, window).metal
        };
        let mut bare = inputs.planter.clone();
        bare.unit.coulter = None;
        let (both, opener) = (at(&inputs.planter), at(&bare));
        let range = |dice: &mut Dice, k: &Coefficient| dice.of_range(k);
        Self {
            metal: both * factor,
            opener_share: opener / both,
            exponent: range(&mut dice, &K.depth_exponent),
            coulter_above: 0.008,
            in_tracks: dice.triangular(1.0, 1.02, 1.4),
            lost_to_speed: range(&mut dice, &K.load_lost_to_speed),
            scatter: range(&mut dice, &K.load_scatter),
            spots: dice.between(0.12, 0.28),
            ceiling: window.ceiling.si(),
            drift: 0.05 + dice.normal(0.08),
        }
    }

    /// Reaction of opener and coulter at a depth, N.
    pub(crate) fn metal_at(&self, depth: f64) -> f64 {
        let share = |depth: f64, full: f64| (depth.max(0.0) / full).powf(self.exponent);
        let coulter = share(depth - self.coulter_above, 0.050 - self.coulter_above);
        self.metal * (self.opener_share * share(depth, 0.050) + (1.0 - self.opener_share) * coulter)
    }

    /// The window in which the load truly should be, N: contact lost at most 10 % of the time with
    /// the scatter of this field, and not above the ceiling of its moisture.
    pub(crate) fn window(&self) -> (f64, f64) {
        let contact = domain::settings::forces::load_for_loss(
            K.contact_loss_tolerated.value,
            Force::from_si(self.scatter),
        );
        (contact.si(), self.ceiling)
    }
}

/// A planter at work in a field.
#[derive(Debug, Clone)]
pub(crate) struct AtWork<'a> {
    pub iron: &'a Iron,
    pub ground: &'a Ground,
    /// Down force believed to be set, N.
    pub force: f64,
    /// What the lever stands for with new discs, m.
    pub lever: f64,
    /// km/h above the reference speed.
    pub faster: f64,
    /// How full the hoppers are.
    pub fill: f64,
    /// Share of the planting day that has passed.
    pub day: f64,
}

impl AtWork<'_> {
    pub(crate) fn faster(inputs: &Inputs) -> f64 {
        let speed = inputs.goals.speed.map_or(0.0, Measured::si) * 3.6;
        (speed - K.reference_speed.value * 1.609_344).max(0.0)
    }

    /// Everything but opener and coulter, N.
    pub(crate) fn pushes(&self) -> f64 {
        let iron = self.iron;
        iron.unit + iron.attachments + iron.seed * self.fill + self.force * iron.arrives
            - iron.draft * iron.slope
            - iron.cleaner
            - iron.closing
            - self.ground.lost_to_speed * self.faster
    }

    /// How much harder the soil is by now.
    pub(crate) fn drifted(&self) -> f64 {
        (self.ground.drift * self.day).exp()
    }

    /// Depth at which the wheels stop the opener, m.
    pub(crate) fn stop(&self) -> f64 {
        (self.lever - self.iron.lost - self.iron.lost_unseen).max(0.005)
    }

    /// Mean load on the gauge wheels of the rows away from tyres and ends, N; negative when the
    /// unit rides out.
    pub(crate) fn load(&self) -> f64 {
        self.pushes() - self.ground.metal_at(self.stop()) * self.drifted()
    }

    pub(crate) fn in_window(&self) -> bool {
        let (low, high) = self.ground.window();
        let load = self.load();
        low <= load && load <= high
    }

    /// Furrow depth where `pushes` holds against soil that is `hard` times the usual, m.
    pub(crate) fn reached(&self, pushes: f64, stop: f64, hard: f64) -> f64 {
        let left = |depth: f64| pushes - self.ground.metal_at(depth) * hard;
        if left(stop) >= 0.0 {
            return stop;
        }
        let (mut shallow, mut deep) = (0.0, stop);
        for _ in 0..24 {
            let middle = f64::midpoint(shallow, deep);
            if left(middle) > 0.0 { shallow = middle } else { deep = middle }
        }
        shallow
    }
}

/// 50 lbf in N.
pub(crate) const FIFTY: f64 = 50.0 * POUND;
