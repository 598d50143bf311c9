//! Ground speed: the one to start with, and the fastest that keeps the wheels down.

use serde::{Deserialize, Serialize};

use super::box_states::Fill;
use super::down_force::DownForceAdvice;
use super::say::pounds;
use crate::provenance::{Advice, Coefficients, Mark, Reason, sources};
use crate::quantity::{Force, Measured, Speed};

/// The advice on speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SpeedAdvice {
    /// The speed to drive.
    pub start: Speed,
    /// Fastest speed at which this setting keeps contact as often as is tolerated, half-full
    /// hopper; never above what planters are driven at (7 mph), and never below the reference
    /// speed, where slowing down is not known to gain load.
    pub most: Speed,
}

/// Fastest speed that is ever advised, m/s (7 mph).
const FASTEST: f64 = 7.0 * 0.447_04;

/// Works out the speed from the load that the chosen setting leaves on the wheels.
pub(super) fn speed(
    wanted: Speed,
    force: &DownForceAdvice,
    k: &Coefficients,
) -> Advice<SpeedAdvice> {
    let half = force
        .as_box_empties
        .iter()
        .find(|b| matches!(b.fill, Fill::Half | Fill::Central))
        .map_or(0.0, |b| b.load.si());
    let spare = half - force.window.low.si();
    let per_ms = k.load_lost_to_speed.value * 3.6;
    let reference = k.reference_speed.value * 0.447_04;
    // Load is lost only above the reference speed; below it a slower drive gains nothing here.
    let from = wanted.si().max(reference);
    let (start, most) = if force.window.room {
        // Slower than the reference speed nothing is known to be gained.
        let most = (from + spare / per_ms).min(FASTEST).max(reference);
        (wanted.si().min(most), most)
    } else {
        // No force is right here, so nothing is gained by driving faster than was meant.
        let start = wanted.si().min(reference);
        (start, start)
    };
    let mut because = vec![Reason::made(
        format!(
            "each mph above {:.0} costs about {} of gauge-wheel load",
            k.reference_speed.value,
            pounds(Force::from_si(k.load_lost_to_speed.value * 1.609_344))
        ),
        k.load_lost_to_speed.mark,
        k.load_lost_to_speed.source.clone(),
    )];
    let mut watch = Vec::new();
    if start < wanted.si() - 1e-6 {
        because.push(Reason::fixed(
            "at the speed that was planned the wheels would leave the ground too often",
            Mark::Derived,
            sources::NORMAL,
        ));
    }
    if force.window.room && spare < 0.0 && start <= reference + 1e-6 {
        watch.push(Reason::fixed(
            "the wheels are light at any speed here: slowing down alone does not mend it",
            Mark::Derived,
            sources::NORMAL,
        ));
    }
    if !force.window.room {
        watch.push(Reason::fixed(
            "wet soil: lowering speed or waiting beats adding force",
            Mark::Read,
            sources::IOWA_WET,
        ));
    }
    watch.push(Reason::fixed(
        "if depth scatters from seed to seed, slow down one mph before touching force",
        Mark::Read,
        sources::BADUA_2021,
    ));
    Advice {
        choice: SpeedAdvice { start: Speed::from_si(start), most: Speed::from_si(most) },
        because,
        watch,
        assumed: Vec::new(),
    }
}
