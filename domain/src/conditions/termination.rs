//! When a cover crop has to be ended, by the zones of the guidelines.
//!
//! Guidance, not law: the label of the herbicide is law, then come the policy and the agent.

use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};

use super::report::{Conditions, Crop};
use crate::provenance::{Mark, Reason, sources};

/// A zone of the guidelines for ending cover crops, from dry to humid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TerminationZone {
    /// Zone 1, the driest.
    One,
    /// Zone 2.
    Two,
    /// Zone 3.
    Three,
    /// Zone 4, the most humid.
    Four,
}

/// The last day on which a cover may be ended.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Termination {
    /// The zone that was used; none on irrigated land or where nobody named it.
    pub zone: Option<TerminationZone>,
    /// The last day, where zone and day of planting are known; and before the crop emerges, where
    /// that is earlier.
    pub latest: Option<NaiveDate>,
    /// How the end that was reported compares with it.
    pub verdict: TerminationVerdict,
    /// The rule in words.
    pub rule: Reason,
    /// What else to keep in mind: allowances, who comes before the guideline.
    pub watch: Vec<Reason>,
}

/// How the end of a cover compares with the guideline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TerminationVerdict {
    /// By the last day.
    InTime,
    /// After the last day.
    Late,
    /// Zone, day of planting or day of the end are not known.
    NotKnown,
}

/// Days before planting by which a late-spring crop asks for the end, in zones 1 and 2.
const ZONE_1_DAYS: u64 = 35;
const ZONE_2_DAYS: u64 = 15;
/// Days after planting in zone 4.
const ZONE_4_DAYS: u64 = 5;

/// The last day for ending the cover of a field. `emergence` is the day on which the crop comes up,
/// where it is known.
pub fn termination(c: &Conditions, emergence: Option<NaiveDate>) -> Termination {
    let irrigated = c.irrigated == Some(true);
    let zone = c.termination_zone.filter(|_| !irrigated);
    let rule = match zone {
        None if irrigated => IRRIGATED,
        None => NO_ZONE,
        Some(zone) => rule_of(zone, c.crop),
    };
    let known = irrigated || zone.is_some();
    let latest = c.planting_date.filter(|_| known).and_then(|planting| {
        let by_zone = zone.map(|zone| last_by_zone(zone, c.crop, planting));
        // Irrigated land has no zone limit, only emergence.
        let up = emergence.and_then(|day| day.pred_opt());
        match (by_zone.flatten(), up) {
            (Some(zone), Some(up)) => Some(zone.min(up)),
            (zone, up) => zone.or(up),
        }
    });
    let mut watch = vec![OTHERS_FIRST];
    if zone.is_some() {
        watch.extend([ALLOWANCES, LOCAL_TRIALS]);
    }
    // Nothing emerges before it is planted.
    let bound = latest.or(if irrigated { c.planting_date } else { None });
    let verdict = match c.cover_ended.zip(bound) {
        Some((ended, bound)) if ended <= bound => TerminationVerdict::InTime,
        Some(_) if latest.is_some() => TerminationVerdict::Late,
        _ => TerminationVerdict::NotKnown,
    };
    Termination { zone, latest, verdict, rule, watch }
}

fn last_by_zone(zone: TerminationZone, crop: Crop, planting: NaiveDate) -> Option<NaiveDate> {
    match (zone, crop) {
        // Corn counts as an early-spring crop, soybean as a later one.
        (TerminationZone::One | TerminationZone::Two, Crop::Corn) | (TerminationZone::Three, _) => {
            Some(planting)
        }
        (TerminationZone::One, Crop::Soybean) => planting.checked_sub_days(Days::new(ZONE_1_DAYS)),
        (TerminationZone::Two, Crop::Soybean) => planting.checked_sub_days(Days::new(ZONE_2_DAYS)),
        (TerminationZone::Four, _) => planting.checked_add_days(Days::new(ZONE_4_DAYS)),
    }
}

const fn rule_of(zone: TerminationZone, crop: Crop) -> Reason {
    match (zone, crop) {
        (TerminationZone::One | TerminationZone::Two, Crop::Corn) => EARLY_SPRING,
        (TerminationZone::One, Crop::Soybean) => ZONE_1,
        (TerminationZone::Two, Crop::Soybean) => ZONE_2,
        (TerminationZone::Three, _) => ZONE_3,
        (TerminationZone::Four, _) => ZONE_4,
    }
}

const ZONE_1: Reason = Reason::fixed(
    "guidance, zone 1: end the cover 35 days or earlier before planting, and before the crop emerges",
    Mark::Read,
    sources::RMA_ZONES,
);
const ZONE_2: Reason = Reason::fixed(
    "guidance, zone 2: end the cover 15 days or earlier before planting, and before the crop emerges",
    Mark::Read,
    sources::RMA_ZONES,
);
const EARLY_SPRING: Reason = Reason::fixed(
    "guidance, zones 1 and 2, crops of early spring (corn): end the cover as soon as practical, at the latest at planting",
    Mark::Read,
    sources::NRCS_ZONES_SUMMARY,
);
const ZONE_3: Reason = Reason::fixed(
    "guidance, zone 3: end the cover at or before planting",
    Mark::Read,
    sources::NRCS_IOWA_ZONES,
);
const ZONE_4: Reason = Reason::fixed(
    "guidance, zone 4: end the cover at or within 5 days after planting, and before the crop emerges",
    Mark::Read,
    sources::NRCS_IOWA_ZONES,
);
const IRRIGATED: Reason = Reason::fixed(
    "guidance, irrigated land: no zone limit, but end the cover before the crop emerges",
    Mark::Read,
    sources::RMA_ZONES,
);
const NO_ZONE: Reason = Reason::fixed(
    "guidance: name the zone of the field; whatever the zone, end the cover before the crop emerges",
    Mark::Read,
    sources::RMA_ZONES,
);
/// That the label comes first is read; in which order the others follow is from memory.
const LABEL_FIRST: &str = "USDA-NRCS. Practice standard 340, Michigan (2015) and North Carolina (2020), for the label; the order of the others from memory, source to confirm";
const OTHERS_FIRST: Reason = Reason::fixed(
    "check the policy, the agent, and the herbicide label; they override",
    Mark::FromMemory,
    LABEL_FIRST,
);
const ALLOWANCES: Reason = Reason::fixed(
    "up to 7 more days may be allowed in no-till, and up to 7 in a wet season: ask before you count on them",
    Mark::FromMemory,
    sources::NRCS_VERSION_4,
);
const LOCAL_TRIALS: Reason = Reason::fixed(
    "a later day is possible with local trial results or the written opinion of an agricultural expert",
    Mark::Read,
    sources::PRACTICAL_COVER,
);
