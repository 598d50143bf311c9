//! Whether to plant today.

mod cold;
mod wetness;

use serde::{Deserialize, Serialize};

use self::cold::{cold_votes, is_warm, rain_vote};
use self::wetness::{contradictions, wetness_votes};
use super::report::{Conditions, Moisture};
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
        (c.ball.is_none(), "ball test", "not counted", "press soil from seed depth to a ball"),
        (
            c.ribbon.is_none(),
            "ribbon of soil as found",
            "not counted",
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
const WET_AND_FINE: Reason = Reason::fixed(
    "wet, fine soil smears easily: dig after 50 ft and wait if the wall shines",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
