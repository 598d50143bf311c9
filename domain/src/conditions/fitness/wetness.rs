//! What ball, ribbon and feel say about planting today.

use uom::si::length::inch;
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use super::{SLACK, Today, Vote, worst};
use crate::conditions::report::{BallTest, Conditions, Moisture, TossTest};
use crate::provenance::{Coefficients, Mark, Reason, sources};

pub(super) fn wetness_votes(c: &Conditions, k: &Coefficients) -> Vec<Vote> {
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
            (
                Today::Wait,
                Reason::made(text, k.ribbon_too_wet.mark, k.ribbon_too_wet.source.clone()),
            )
        } else {
            let text = format!("the ribbon is no longer than {most} in");
            (
                Today::Plant,
                Reason::made(text, k.ribbon_too_wet.mark, k.ribbon_too_wet.source.clone()),
            )
        });
    }
    match c.toss {
        Some(TossTest::BreaksUp) => votes.push((Today::Plant, BREAKS_UP)),
        Some(TossTest::LandsWhole) => votes.push((Today::Wait, LANDS_WHOLE)),
        None => {}
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

/// Says where observations contradict each other.
pub(super) fn contradictions(
    c: &Conditions,
    k: &Coefficients,
    votes: &[Vote],
    watch: &mut Vec<Reason>,
) {
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
const BREAKS_UP: Reason = Reason::fixed(
    "a thrown ball breaks in the air: the soil may be fit",
    Mark::Read,
    sources::PENN_SIDEWALL,
);
const LANDS_WHOLE: Reason = Reason::fixed(
    "a thrown ball lands whole: probably too wet",
    Mark::Read,
    sources::PENN_SIDEWALL,
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
