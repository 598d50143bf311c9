//! Whether to plant today.

use serde::{Deserialize, Serialize};
use uom::si::length::inch;
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use super::report::{BallTest, Conditions, Crop, Moisture};
use super::temperature::{SeedZone, in_seed_zone, seed_zone};
use super::texture::TextureGroup;
use crate::provenance::{Advice, Assumed, Coefficients, Mark, Reason, sources};

/// What to do today, from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Today {
    /// Plant.
    Plant,
    /// Wait; look again in half a day.
    Wait,
    /// Stop: planting would do lasting harm.
    Stop,
}

/// One observation's vote.
type Vote = (Today, Reason);

/// Slack for comparisons, so that a value at a limit counts as at the limit in any unit.
const SLACK: f64 = 1e-6;

/// Whether to plant today, by the worst of what was seen.
///
/// A wait from wet soil is never overridden by warmth. Where observations contradict each other
/// the safer one counts, and the answer says so. When nobody looked at the wetness of the soil,
/// the answer is to wait and look. What is missing is listed under `assumed`.
pub fn fitness(c: &Conditions, k: &Coefficients) -> Advice<Today> {
    let mut watch = Vec::new();
    let mut votes = wetness_votes(c, k);
    let wetness_seen = !votes.is_empty();
    let wetness = worst(&votes);
    contradictions(c, k, &votes, &mut watch);
    if !wetness_seen {
        votes.push((Today::Wait, LOOK_FIRST));
    }
    votes.extend(cold_votes(c, k, &mut watch));
    votes.extend(rain_vote(c, k, &mut watch));
    let choice = worst(&votes);
    if wetness > Today::Plant && is_warm(c, k) {
        watch.push(WARM_DOES_NOT_HELP);
    }
    let mut because = Vec::new();
    for (vote, reason) in votes {
        if vote == choice {
            because.push(reason);
        } else if vote > Today::Plant {
            watch.push(reason);
        }
    }
    wet_fine_soil(c, choice, &mut watch);
    Advice { choice, because, watch, assumed: assumed_of(c) }
}

fn worst(votes: &[Vote]) -> Today {
    votes.iter().map(|(vote, _)| *vote).max().unwrap_or(Today::Plant)
}

fn wetness_votes(c: &Conditions, k: &Coefficients) -> Vec<Vote> {
    let mut votes = Vec::new();
    let saturated = c.moisture == Some(Moisture::AtCapacity);
    match c.ball {
        Some(BallTest::Crumbles) => votes.push((Today::Plant, BALL_CRUMBLES)),
        Some(BallTest::Cracks) => votes.push((Today::Plant, BALL_CRACKS)),
        Some(BallTest::Deforms) if saturated => votes.push((Today::Stop, PUTTY_AND_FULL)),
        Some(BallTest::Deforms) => votes.push((Today::Wait, BALL_DEFORMS)),
        None => {}
    }
    if let Some(ribbon) = c.ribbon.map(|r| r.get::<inch>()) {
        let most = k.ribbon_too_wet.value;
        votes.push(if ribbon > most + SLACK {
            let text = format!("a ribbon of {ribbon:.1} in is longer than {most} in: too wet");
            (Today::Wait, Reason::made(text, k.ribbon_too_wet.mark, k.ribbon_too_wet.source))
        } else {
            let text = format!("the ribbon is no longer than {most} in");
            (Today::Plant, Reason::made(text, k.ribbon_too_wet.mark, k.ribbon_too_wet.source))
        });
    }
    match c.moisture {
        Some(Moisture::AtCapacity) => votes.push((Today::Wait, AT_CAPACITY)),
        Some(Moisture::Wet) => votes.push((Today::Plant, WET_BY_FEEL)),
        Some(Moisture::Moist | Moisture::SlightlyMoist) => {
            votes.push((Today::Plant, MOIST_BY_FEEL));
        }
        Some(Moisture::Dry) => votes.push((Today::Plant, DRY_BY_FEEL)),
        None => {}
    }
    votes
}

fn contradictions(c: &Conditions, k: &Coefficients, votes: &[Vote], watch: &mut Vec<Reason>) {
    let fit = matches!(c.ball, Some(BallTest::Crumbles | BallTest::Cracks));
    let dry = matches!(c.moisture, Some(Moisture::Dry | Moisture::SlightlyMoist));
    let long = c.ribbon.is_some_and(|r| r.get::<inch>() > k.ribbon_too_wet.value + SLACK);
    if fit && worst(votes) > Today::Plant {
        watch.push(BALL_AGAINST_REST);
    }
    if dry && (c.ball == Some(BallTest::Deforms) || long) {
        watch.push(FEEL_AGAINST_REST);
    }
    let colder = |(now, low): (f64, f64)| low > now + SLACK;
    let now = c.soil_temperature.map(|t| t.get::<degree_fahrenheit>());
    let low = c.soil_low.map(|t| t.get::<degree_fahrenheit>());
    if now.zip(low).is_some_and(colder) {
        watch.push(LOW_ABOVE_NOW);
    }
}

fn cold_votes(c: &Conditions, k: &Coefficients, watch: &mut Vec<Reason>) -> Vec<Vote> {
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
    let (least, severe) = (k.planting_temperature, k.severe_temperature);
    if f < severe.value - SLACK {
        let text =
            format!("soil at {f:.1} °F{under} is below {} °F: it harms the seed", severe.value);
        (Today::Stop, Reason::made(text, severe.mark, severe.source))
    } else if f < least.value - SLACK {
        let text = format!("soil at {f:.1} °F{under} is below {} °F", least.value);
        (Today::Wait, Reason::made(text, least.mark, least.source))
    } else {
        let text = format!("soil at {f:.1} °F{under} is warm enough ({} °F)", least.value);
        (Today::Plant, Reason::made(text, least.mark, least.source))
    }
}

fn forecast_vote(zone: &SeedZone, crop: Crop, k: &Coefficients) -> Vote {
    let f = zone.likely.get::<degree_fahrenheit>();
    let (least, severe) = (k.planting_temperature, k.severe_temperature);
    let hours = match crop {
        Crop::Corn => 48,
        Crop::Soybean => 24,
    };
    if f < severe.value - SLACK {
        let text = format!(
            "soil falls to {f:.1} °F within two days, below {} °F: seed that drinks cold water is harmed",
            severe.value
        );
        (Today::Stop, Reason::made(text, severe.mark, severe.source))
    } else if f < least.value - SLACK {
        let text = format!(
            "soil falls to {f:.1} °F within two days; it should stay at {} °F or more for {hours} h after planting",
            least.value
        );
        (Today::Wait, Reason::made(text, severe.mark, severe.source))
    } else {
        let text = format!("soil stays at {f:.1} °F or more for the next two days");
        (Today::Plant, Reason::made(text, least.mark, least.source))
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

fn rain_vote(c: &Conditions, k: &Coefficients, watch: &mut Vec<Reason>) -> Option<Vote> {
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

fn is_warm(c: &Conditions, k: &Coefficients) -> bool {
    coldest(c, k).is_some_and(|f| f >= k.planting_temperature.value - SLACK)
}

fn wet_fine_soil(c: &Conditions, choice: Today, watch: &mut Vec<Reason>) {
    let may_be_fine = c.texture.is_none_or(|t| t.group() == TextureGroup::Fine);
    if choice == Today::Plant && c.moisture == Some(Moisture::Wet) && may_be_fine {
        watch.push(WET_AND_FINE);
    }
}

fn assumed_of(c: &Conditions) -> Vec<Assumed> {
    let missing = |what: &'static str, used: &'static str, instead: &'static str| Assumed {
        what: what.into(),
        used: used.into(),
        range: None,
        instead: instead.into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    };
    let list = [
        (c.ball.is_none(), "ball test", "no vote", "press soil from seed depth to a ball"),
        (
            c.ribbon.is_none(),
            "ribbon of soil as found",
            "no vote",
            "press soil as found to a ribbon",
        ),
        (
            c.moisture.is_none(),
            "moisture at seed depth",
            "moist",
            "squeeze soil from seed depth and report how it feels",
        ),
        (
            c.soil_temperature.is_none(),
            "soil temperature at seed depth",
            "50 °F or more",
            "read a soil thermometer at seed depth, under the cover",
        ),
        (
            c.soil_low.is_none(),
            "lowest soil temperature of the next 48 h",
            "50 °F or more",
            "look it up in the forecast",
        ),
        (c.rain.is_none(), "rain of the next 48 h", "none", "look it up in the forecast"),
        (
            c.texture.is_none() && c.moisture == Some(Moisture::Wet),
            "texture of the topsoil",
            "fine",
            "feel the texture, or look at the soil survey",
        ),
    ];
    list.into_iter()
        .filter(|(gap, ..)| *gap)
        .map(|(_, what, used, instead)| missing(what, used, instead))
        .collect()
}

const BALL_CRUMBLES: Reason = Reason::fixed("ball crumbles", Mark::Read, sources::KANSAS_SIDEWALL);
const BALL_CRACKS: Reason =
    Reason::fixed("ball cracks when pressed", Mark::Read, sources::KANSAS_SIDEWALL);
const BALL_DEFORMS: Reason = Reason::fixed(
    "the ball deforms like putty: walls will smear; even half a day of waiting helps",
    Mark::Read,
    sources::KANSAS_SIDEWALL,
);
const PUTTY_AND_FULL: Reason = Reason::fixed(
    "the ball deforms and the soil holds all the water it can: sidewalls made now cannot be undone",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL,
);
const AT_CAPACITY: Reason = Reason::fixed(
    "soil at field capacity is too wet: it is the first cause of smeared sidewalls",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL,
);
const WET_BY_FEEL: Reason =
    Reason::fixed("wet by feel, below field capacity", Mark::Proposal, sources::OWN_CHOICE);
const MOIST_BY_FEEL: Reason = Reason::fixed("moist by feel", Mark::Proposal, sources::OWN_CHOICE);
const DRY_BY_FEEL: Reason = Reason::fixed(
    "dry by feel: walls will not smear, but see that seed reaches moisture",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const LOOK_FIRST: Reason = Reason::fixed(
    "nobody felt the soil: press soil from seed depth to a ball first, it takes two minutes",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const WARM_DOES_NOT_HELP: Reason = Reason::fixed(
    "the soil is warm enough, but warmth does not make wet soil fit",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const BALL_AGAINST_REST: Reason = Reason::fixed(
    "the ball looks fit, but ribbon or feel say too wet: the safer one counts; test at three places",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const FEEL_AGAINST_REST: Reason = Reason::fixed(
    "dry by feel, but ball or ribbon say too wet: the safer one counts; test at three places",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const LOW_ABOVE_NOW: Reason = Reason::fixed(
    "the low expected is above the temperature read now: the colder one counts; check both",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
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
const WET_AND_FINE: Reason = Reason::fixed(
    "wet, fine soil smears easily: dig after 50 ft and wait if the wall shines",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
