//! One field with a planter before it, the hardware that may serve it, and what is wrong with it.

use domain::dig::Cause;
use domain::learning::{Place, SoilClass};
use domain::planter::DownForce;
use domain::quantity::{Angle, Force, Measured};
use domain::settings::{Inputs, Recommendation, recommend};

use crate::field::{Ground, K, report};
use crate::iron::{Fault, Machine};
use crate::truth::AtWork;

/// One field, ready to be planted.
pub(crate) struct Case {
    pub id: u64,
    pub machine: Machine,
    pub inputs: Inputs,
    pub ground: Ground,
    pub place: Place,
    pub sheet: Recommendation,
}

impl Case {
    pub(crate) fn of(id: u64, machine: Machine, farm: u64, planter: u64, factor: f64) -> Self {
        let inputs = report(&machine, farm, id);
        let sheet = recommend(&inputs, &K);
        let ground = Ground::of(id, &inputs, sheet.down_force.window, factor);
        let place = Place {
            class: SoilClass::of(&inputs.field),
            planter: u128::from(planter),
            field: u128::from(id),
            season: 2026,
        };
        Self { id, machine, inputs, ground, place, sheet }
    }

    /// Whether some setting of this hardware, with sound iron, is in the window at all.
    pub(crate) fn servable(&self) -> bool {
        let (low, high) = self.ground.window();
        if low >= high {
            return false;
        }
        let mut machine = self.machine.clone();
        if let Some(fault) = machine.iron.fault {
            mend(&mut machine, fault);
        }
        forces(&self.inputs.planter.down_force)
            .into_iter()
            .any(|force| work(&machine, &self.ground, &self.inputs, force, 0.5, 0.0).in_window())
    }
}

fn forces(source: &DownForce) -> Vec<f64> {
    if let DownForce::Spring { notches } = source {
        return notches.iter().map(|n| n.force.si()).collect();
    }
    let (low, high) = source.reach().map_or((0.0, 0.0), |(a, b)| (a.si(), b.si()));
    (0..=200)
        .map(|i| low + (high - low) * f64::from(i) / 200.0)
        .map(|force| source.nearest_settable(Force::from_si(force)).si())
        .collect()
}

pub(crate) fn work<'a>(
    machine: &'a Machine,
    ground: &'a Ground,
    inputs: &Inputs,
    force: f64,
    fill: f64,
    day: f64,
) -> AtWork<'a> {
    let lever = inputs.goals.lever.map_or(0.0, Measured::si);
    let faster = AtWork::faster(inputs);
    AtWork { iron: &machine.iron, ground, force, lever, faster, fill, day }
}

/// Sets the iron right, and the record of the planter with it.
pub(crate) fn mend(machine: &mut Machine, fault: Fault) {
    let Machine { planter, iron } = machine;
    match fault {
        Fault::BarHigh => {
            iron.slope = 0.0;
            planter.unit.arms.angle = Some(Angle::from_si(0.0));
        }
        Fault::CleanersDeep => iron.cleaner = 20.0,
        Fault::EndsLift => iron.ends_miss = 0.0,
        Fault::WornDiscs | Fault::LeverOff => {
            iron.lost_unseen = 0.0;
            planter.unit.opener.measured.get_or_insert(planter.unit.opener.new_diameter);
        }
    }
    iron.fault = None;
}

/// Whether a cause is the name of a fault.
pub(crate) fn names(cause: Cause, fault: Fault) -> bool {
    match fault {
        Fault::BarHigh => cause == Cause::BarTooHigh,
        Fault::CleanersDeep => cause == Cause::CleanerTooDeep,
        Fault::EndsLift => cause == Cause::FrameLifts,
        Fault::WornDiscs | Fault::LeverOff => {
            matches!(cause, Cause::WornOrMisread | Cause::LeverOff)
        }
    }
}
