//! What is reported of a field before anybody plants, and what is true of its ground.

use domain::conditions::{
    Conditions, CoverCrop, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop, TextureClass,
};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, Speed};
use domain::settings::{Goals, Inputs};

use crate::dice::Dice;
use crate::iron::Machine;

pub(crate) const K: Coefficients = Coefficients::STANDARD;
pub(crate) const INCH: f64 = 0.0254;
pub(crate) const POUND: f64 = 4.448_221_615_260_5;
const MPH: f64 = 0.447_04;

/// What is true of the ground of a field.
#[derive(Debug, Clone)]
pub(crate) struct Ground {
    /// Reaction of opener and coulter at 50 mm, N.
    pub metal: f64,
    /// The part of the opener in it.
    pub opener_share: f64,
    /// Exponent of depth.
    pub exponent: f64,
    /// Height of the coulter above the opener, m.
    pub coulter_above: f64,
    /// How much harder it is behind a tyre.
    pub in_tracks: f64,
    /// Load lost to each km/h above the reference speed, N.
    pub lost_to_speed: f64,
    /// Standard deviation of the load along the row while driving, N.
    pub scatter: f64,
    /// Standard deviation from spot to spot of the resistance, as a share of it.
    pub spots: f64,
    /// Most load that the moisture bears, N.
    pub ceiling: f64,
    /// Rise of the log resistance over a planting day of eight hours, as the soil dries.
    pub drift: f64,
}

/// What is reported of a field, and the goals. `day` moves what differs between fields of one farm.
pub(crate) fn report(machine: &Machine, farm: u64, day: u64) -> Inputs {
    let mut soil = Dice::of(farm, 2);
    let mut dice = Dice::of(day, 3);
    let texture = soil.one_of(&[
        (TextureClass::SandyLoam, 0.1),
        (TextureClass::Loam, 0.25),
        (TextureClass::SiltLoam, 0.35),
        (TextureClass::SiltyClayLoam, 0.2),
        (TextureClass::ClayLoam, 0.1),
    ]);
    let cover = soil.one_of(&[
        (None, 0.4),
        (Some(CoverState::GreenStanding), 0.4),
        (Some(CoverState::DeadCrisp), 0.2),
    ]);
    let moisture = dice.one_of(&[
        (Moisture::Moist, 0.45),
        (Moisture::SlightlyMoist, 0.3),
        (Moisture::Dry, 0.15),
        (Moisture::Wet, 0.1),
    ]);
    let crop = dice.one_of(&[(Crop::Corn, 0.55), (Crop::Soybean, 0.45)]);
    let depth = match crop {
        Crop::Corn => 2.0,
        Crop::Soybean => 1.5,
    };
    let speed = dice.one_of(&[(5.0, 0.7), (5.5, 0.15), (6.0, 0.15)]);
    let field = Conditions {
        texture: Some(texture),
        moisture: Some(moisture),
        cover: cover.map(|state| CoverCrop {
            height: Some(Length::from_si(dice.between(6.0, 30.0) * INCH)),
            ground_cover: None,
            state: Some(state),
            ..CoverCrop::of(CoverSpecies::CerealRye)
        }),
        previous_crop: Some(match crop {
            Crop::Corn => PreviousCrop::Soybean,
            Crop::Soybean => PreviousCrop::Corn,
        }),
        ..Conditions::of(crop)
    };
    let depth = Length::from_si(depth * INCH);
    let goals = Goals {
        depth: Some(depth),
        lever: Some(depth + machine.planter.unit.opener.depth_lost()),
        speed: Some(Speed::from_si(speed * MPH)),
        ..Goals::default()
    };
    Inputs::new(machine.planter.clone(), field, goals)
}
