//! What bounds the speed: contact, metering, depth.

use serde::{Deserialize, Serialize};

use crate::provenance::{Coefficients, Mark, Reason, sources};
use crate::quantity::{Force, Measured, Speed};
use crate::settings::forces::load_for_loss;
use crate::settings::say::mph;

/// What may bound the speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpeedBound {
    /// Gauge wheels stay on the ground as often as is tolerated.
    Contact,
    /// Meter and tube space the seed evenly.
    Metering,
    /// Seed lies at an even depth.
    Depth,
}

/// One of them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SpeedLimit {
    /// Which.
    pub bound: SpeedBound,
    /// The fastest it allows; `None` where nobody published a figure.
    pub most: Option<Speed>,
    /// Why.
    pub reason: Reason,
}

/// The three limits, and the one that binds: the least that has a figure.
pub(super) fn limits(contact: Option<Speed>, k: &Coefficients) -> (Vec<SpeedLimit>, SpeedBound) {
    let meter = Speed::from_si(k.meter_speed.high * MPH);
    let lifts = contact.is_some_and(|contact| contact.si() < meter.si());
    let binds = if lifts { SpeedBound::Contact } else { SpeedBound::Metering };
    let words = contact.map_or_else(
        || {
            "tell the gauge-wheel load to know at which speed the wheels leave the ground"
                .to_owned()
        },
        |contact| format!("above {} the wheels leave the ground too often", mph(contact)),
    );
    let all = vec![
        SpeedLimit {
            bound: SpeedBound::Contact,
            most: contact,
            reason: Reason::made(
                words,
                k.load_lost_to_speed.mark,
                k.load_lost_to_speed.source.clone(),
            ),
        },
        SpeedLimit {
            bound: SpeedBound::Metering,
            most: Some(meter),
            reason: Reason::made(
                format!(
                    "most planters are designed for about {:.0} mph; mechanical meters commonly run at {} to {} mph; the machine's manual wins",
                    k.meter_speed.value, k.meter_speed.low, k.meter_speed.high
                ),
                k.meter_speed.mark,
                k.meter_speed.source.clone(),
            ),
        },
        SpeedLimit { bound: SpeedBound::Depth, most: None, reason: DEPTH },
    ];
    (all, binds)
}

/// The speed at which a load, found at another speed, has fallen to the least that keeps contact as
/// often as is tolerated; never below the reference speed, where nothing is gained by going slower.
pub fn fastest_with_contact(load: Force, at: Speed, k: &Coefficients) -> Speed {
    let scatter = Force::from_si(k.load_scatter.value);
    let least = load_for_loss(k.contact_loss_tolerated.value, scatter);
    let reference = k.reference_speed.value * MPH;
    let spare = (load - least).si() / (k.load_lost_to_speed.value * 3.6);
    Speed::from_si((at.si().max(reference) + spare).max(reference))
}

const MPH: f64 = 0.447_04;

const DEPTH: Reason = Reason::fixed(
    "no published speed limit for depth: the row unit shakes more the faster it goes, so dig at the speed you mean to drive",
    Mark::Read,
    sources::BADUA_2021,
);
