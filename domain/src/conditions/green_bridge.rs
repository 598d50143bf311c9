//! The risk that pests of a dying cover move over to the crop.

use serde::{Deserialize, Serialize};
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use super::cover_crop::{CoverCrop, CoverSpecies, CoverState};
use super::mat::mat_fraction;
use super::report::{Conditions, Crop, Moisture};
use crate::provenance::{Coefficients, Mark, Reason, sources};

/// How likely pests are to move from the cover to the crop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BridgeRisk {
    /// The cover was dead long enough, or there is none.
    Low,
    /// Scout in the first weeks.
    Some,
    /// Expect them, and scout twice a week.
    High,
}

/// A risk with its causes.
#[derive(Debug, Clone, PartialEq)]
pub struct GreenBridge {
    /// The class.
    pub risk: BridgeRisk,
    /// What causes it, and what to look for.
    pub causes: Vec<Reason>,
}

/// Days between end and planting from which on the bridge is broken.
const BROKEN_DAYS: i64 = 14;

/// The risk of a green bridge, by species, state and gap.
///
/// High when the cover was rolled, planted green and is to be ended afterwards; some when it was
/// ended less than two weeks before planting, or is alive or dying on the day of planting; else low.
pub fn green_bridge(c: &Conditions, k: &Coefficients) -> GreenBridge {
    let Some(cover) = &c.cover else {
        return GreenBridge { risk: BridgeRisk::Low, causes: Vec::new() };
    };
    let gap = c.days_from_end_to_planting();
    let risk = risk(cover, gap);
    let mut causes = Vec::new();
    if risk > BridgeRisk::Low {
        if risk == BridgeRisk::High {
            causes.push(ROLLED_GREEN_SPRAYED);
        }
        causes.extend(insects(cover, c.crop));
    }
    if is_cool_and_wet(c, k) && mat_fraction(c, k).likely >= MUCH_RESIDUE {
        causes.push(SLUG_WEATHER);
    }
    GreenBridge { risk, causes }
}

fn risk(cover: &CoverCrop, gap: Option<i64>) -> BridgeRisk {
    let green = cover.state.is_some_and(CoverState::is_green);
    match gap {
        Some(days) if days >= BROKEN_DAYS => BridgeRisk::Low,
        Some(days) if days < 0 && cover.state == Some(CoverState::GreenRolled) => BridgeRisk::High,
        Some(_) => BridgeRisk::Some,
        None if green || cover.state == Some(CoverState::Dying) || cover.state.is_none() => {
            BridgeRisk::Some
        }
        None => BridgeRisk::Low,
    }
}

fn insects(cover: &CoverCrop, crop: Crop) -> Vec<Reason> {
    let grassy = cover.species.is_grass() || cover.species == CoverSpecies::LegumeMix;
    match (crop, grassy) {
        (Crop::Corn, true) => vec![ARMYWORM, CUTWORM],
        (Crop::Corn, false) => vec![CUTWORM],
        (Crop::Soybean, _) => vec![SOYBEAN_FEEDING],
    }
}

/// Share of the ground under residue and mat that shelters slugs.
const MUCH_RESIDUE: f64 = 0.5;

fn is_cool_and_wet(c: &Conditions, k: &Coefficients) -> bool {
    let cool = c.soil_temperature.is_some_and(|t| t.get::<degree_fahrenheit>() < k.cool_soil.value);
    cool && matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity))
}

const ROLLED_GREEN_SPRAYED: Reason = Reason::fixed(
    "rolled, planted green and sprayed afterwards is the worst green bridge: scout for cutworm and armyworm from emergence on",
    Mark::Read,
    sources::CORNELL_BRIDGE,
);
const ARMYWORM: Reason = Reason::fixed(
    "less than two weeks between the end of a grass cover and corn raises the risk of armyworm: look at 20 plants at 5 places each week",
    Mark::Read,
    sources::PENN_ARMYWORM,
);
const CUTWORM: Reason = Reason::fixed(
    "black cutworm feeds on the dying cover for 1 to 2 weeks and then moves to the crop",
    Mark::Read,
    sources::CORNELL_BRIDGE,
);
const SOYBEAN_FEEDING: Reason = Reason::fixed(
    "soybean into a living cover: slugs fed as much or less than where it was killed early; look for them all the same",
    Mark::Read,
    sources::REED_2019,
);
const SLUG_WEATHER: Reason = Reason::fixed(
    "cool, wet and much residue is slug weather: look under residue at 10 places, 5 plants each",
    Mark::Read,
    sources::VIRGINIA_SLUGS,
);
