//! What temperature and rain say about planting today.

use uom::si::length::inch;
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use super::{SLACK, Today, Vote};
use crate::conditions::report::{Conditions, Crop};
use crate::conditions::temperature::{SeedZone, in_seed_zone, seed_zone};
use crate::provenance::{Coefficients, Mark, Reason, sources};

pub(super) fn cold_votes(c: &Conditions, k: &Coefficients, watch: &mut Vec<Reason>) -> Vec<Vote> {
    let mut votes = Vec::new();
    if let Some(zone) = seed_zone(c, k) {
        votes.push(temperature_vote(&zone, k));
        unsure(&zone, k, watch);
    }
    if let Some(low) = c.soil_low {
        votes.push(forecast_vote(&in_seed_zone(low, c, k), c.crop, k));
    }
    let held = votes.iter().any(|(vote, _)| *vote > Today::Plant);
    if held && c.crop == Crop::Soybean {
        watch.push(SOYBEAN_DISPUTED);
    }
    if held && c.soil_low.is_some() && c.crop == Crop::Soybean {
        watch.push(SOYBEAN_FIRST_DAY);
    }
    votes
}

fn temperature_vote(zone: &SeedZone, k: &Coefficients) -> Vote {
    let f = zone.likely.get::<degree_fahrenheit>();
    let under = if zone.steps.is_empty() { "" } else { " under the living cover" };
    let (least, severe) = (&k.planting_temperature, &k.severe_temperature);
    if f < severe.value - SLACK {
        let text =
            format!("soil at {f:.1} °F{under} is below {} °F: it harms the seed", severe.value);
        (Today::Stop, Reason::made(text, severe.mark, severe.source.clone()))
    } else if f < least.value - SLACK {
        let text = format!("soil at {f:.1} °F{under} is below {} °F", least.value);
        (Today::Wait, Reason::made(text, least.mark, least.source.clone()))
    } else {
        let text = format!("soil at {f:.1} °F{under} is warm enough ({} °F)", least.value);
        (Today::Plant, Reason::made(text, least.mark, least.source.clone()))
    }
}

fn forecast_vote(zone: &SeedZone, crop: Crop, k: &Coefficients) -> Vote {
    let f = zone.likely.get::<degree_fahrenheit>();
    let (least, severe) = (&k.planting_temperature, &k.severe_temperature);
    let hours = match crop {
        Crop::Corn => 48,
        Crop::Soybean => 24,
    };
    if f < severe.value - SLACK {
        let text = format!(
            "soil falls to {f:.1} °F within two days, below {} °F: seed that drinks cold water is harmed",
            severe.value
        );
        (Today::Stop, Reason::made(text, severe.mark, severe.source.clone()))
    } else if f < least.value - SLACK {
        let text = format!(
            "soil falls to {f:.1} °F within two days; it should stay at {} °F or more for {hours} h after planting",
            least.value
        );
        (Today::Wait, Reason::made(text, severe.mark, severe.source.clone()))
    } else {
        let text = format!("soil stays at {f:.1} °F or more for the next two days");
        (Today::Plant, Reason::made(text, least.mark, least.source.clone()))
    }
}

/// The correction for a living cover has a range; its cold end may lie below the limit.
fn unsure(zone: &SeedZone, k: &Coefficients, watch: &mut Vec<Reason>) {
    let low = zone.low.get::<degree_fahrenheit>();
    let likely = zone.likely.get::<degree_fahrenheit>();
    let least = k.planting_temperature.value;
    if likely >= least - SLACK && low < least - SLACK {
        watch.push(Reason::made(
            format!("under the cover the soil may be as cold as {low:.1} °F: measure there"),
            Mark::Read,
            sources::REED_2019,
        ));
    }
}

pub(super) fn rain_vote(c: &Conditions, k: &Coefficients, watch: &mut Vec<Reason>) -> Option<Vote> {
    let Some(rain) = c.rain.map(|r| r.get::<inch>()) else {
        watch.push(RAIN_UNKNOWN);
        return None;
    };
    if rain < k.cold_rain.value - SLACK {
        return None;
    }
    let Some(coldest) = coldest(c, k) else {
        watch.push(RAIN_UNKNOWN);
        return None;
    };
    let near = k.planting_temperature.value + k.near_minimum.value;
    if coldest < near {
        let text = format!(
            "{rain:.2} in of rain within two days on soil near {} °F: cold rain is the worst trigger of chilling",
            k.planting_temperature.value
        );
        return Some((Today::Wait, Reason::made(text, Mark::Read, sources::TENNESSEE_TEMPERATURE)));
    }
    watch.push(RAIN_ON_WARM_SOIL);
    None
}

/// The coldest that the seed zone is now or will be, in °F.
fn coldest(c: &Conditions, k: &Coefficients) -> Option<f64> {
    let now = seed_zone(c, k);
    let low = c.soil_low.map(|t| in_seed_zone(t, c, k));
    [now, low]
        .into_iter()
        .flatten()
        .map(|zone| zone.likely.get::<degree_fahrenheit>())
        .reduce(f64::min)
}

pub(super) fn is_warm(c: &Conditions, k: &Coefficients) -> bool {
    coldest(c, k).is_some_and(|f| f >= k.planting_temperature.value - SLACK)
}

const SOYBEAN_DISPUTED: Reason = Reason::fixed(
    "one university holds that cold does not chill soybean; three others do, and the cautious side counts",
    Mark::Read,
    sources::IOWA_CHILLING,
);
const SOYBEAN_FIRST_DAY: Reason = Reason::fixed(
    "for soybean the first 24 h count: look whether the low falls in them",
    Mark::Read,
    sources::TENNESSEE_TEMPERATURE,
);
const RAIN_UNKNOWN: Reason = Reason::fixed(
    "rain within two days and soil near 50 °F: wait",
    Mark::Read,
    sources::TENNESSEE_TEMPERATURE,
);
const RAIN_ON_WARM_SOIL: Reason = Reason::fixed(
    "rain within two days: stop while there is time to close and finish the field in good soil",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
