//! The days between the end of a cover and planting: what they cost and what they save.

use uom::si::length::inch;

use super::cover_crop::{CoverCrop, CoverState};
use super::report::{Conditions, Crop, Moisture};
use crate::provenance::{Coefficients, Mark, Reason, sources};

/// Heights in inches: rye to be ended before corn, and rye at the worst time to be killed.
const END_BY_IN: f64 = 8.0;
const WAIST_HIGH_IN: (f64, f64) = (30.0, 48.0);
/// Days before planting for a beginner, and by which a roller alone must have done its work.
const BEGINNER_DAYS: i64 = 10;
const ROLLER_DAYS: i64 = 21;

/// What the gap between the end of the cover and planting asks for. Empty without a cover.
pub fn kill_gap(c: &Conditions, k: &Coefficients) -> Vec<Reason> {
    let Some(cover) = &c.cover else { return Vec::new() };
    let gap = c.days_from_end_to_planting();
    let alive = cover.state.is_none_or(CoverState::is_green);
    let mut said = Vec::new();
    if c.crop == Crop::Corn && cover.species.is_grass() {
        said.extend(corn_after_grass(cover, gap, alive, k));
    }
    said.extend(water(c, gap, alive));
    if cover.state == Some(CoverState::GreenRolled) && gap.is_some_and(|days| days < ROLLER_DAYS) {
        said.push(ROLLER_ALONE);
    }
    if alive || gap.is_some_and(|days| days < 0) {
        said.push(spray(k));
        said.extend(waist_high(cover));
    }
    said
}

fn corn_after_grass(
    cover: &CoverCrop,
    gap: Option<i64>,
    alive: bool,
    k: &Coefficients,
) -> Vec<Reason> {
    let mut said = Vec::new();
    let safe = &k.kill_gap_corn;
    match gap {
        Some(days) if days < 0 => said.push(LIVES_ON),
        Some(days) if days < BEGINNER_DAYS => {
            let text = format!(
                "{days} days from the end of the cover to corn: more than {:.0} to {:.0} days are safest; first-time users wait 10",
                safe.low, safe.value
            );
            said.push(Reason::made(text, safe.mark, safe.source.clone()));
        }
        None if alive => said.push(GREEN_CORN),
        Some(_) | None => {}
    }
    let tall = cover.height.is_some_and(|height| height.get::<inch>() > END_BY_IN);
    if alive && tall {
        said.push(SIX_TO_EIGHT);
    }
    said
}

fn water(c: &Conditions, gap: Option<i64>, alive: bool) -> Option<Reason> {
    let drying = matches!(c.moisture, Some(Moisture::Dry | Moisture::SlightlyMoist));
    let wet = matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    let late = gap.is_none_or(|days| days < 14);
    match c.crop {
        Crop::Soybean if drying && alive => Some(SOYBEAN_DRY),
        Crop::Corn if drying && alive && late => Some(DRY_SPRING),
        _ if wet && alive => Some(WET_SPRING),
        _ => None,
    }
}

fn spray(k: &Coefficients) -> Reason {
    let least = &k.spray_temperature;
    let text = format!(
        "ending it with herbicide needs daytime air of {:.0} °F or more; the label says how, and it is the law",
        least.value
    );
    Reason::made(text, least.mark, least.source.clone())
}

fn waist_high(cover: &CoverCrop) -> Option<Reason> {
    let (from, to) = WAIST_HIGH_IN;
    let there = cover.height.is_some_and(|h| (from..=to).contains(&h.get::<inch>()));
    (there && cover.species.is_grass()).then_some(WORST_HEIGHT)
}

const LIVES_ON: Reason = Reason::fixed(
    "rye that lived 1 to 2 weeks beside early corn cost 40 to 60 bu/ac; ended right at planting corn was good",
    Mark::Read,
    sources::WISCONSIN_RYE,
);
const GREEN_CORN: Reason = Reason::fixed(
    "corn into a living grass cover: more than 10 to 14 days between its end and corn are safest; name the day of its end",
    Mark::Read,
    sources::IOWA_RYE,
);
const SIX_TO_EIGHT: Reason = Reason::fixed(
    "before corn rye is best ended at 6 to 8 in, while its C:N is low",
    Mark::Read,
    sources::IOWA_GUIDE_SHEET,
);
const DRY_SPRING: Reason = Reason::fixed(
    "the soil is drying: two weeks or more between the end of the cover and planting save water",
    Mark::Read,
    sources::PENN_GUIDE,
);
const SOYBEAN_DRY: Reason = Reason::fixed(
    "the soil is drying: end the cover soon after planting soybean",
    Mark::Read,
    sources::IOWA_RYE,
);
const WET_SPRING: Reason = Reason::fixed(
    "the soil is wet: a living cover dries the seedbed, so that planting green may help",
    Mark::Read,
    sources::PENN_GREEN,
);
const ROLLER_ALONE: Reason = Reason::fixed(
    "a roller without herbicide needs the right stage and at least 3 weeks before planting",
    Mark::Read,
    sources::SARE_SOUTHEAST,
);
const WORST_HEIGHT: Reason = Reason::fixed(
    "about waist-high before planting is the worst time to kill rye: a mat that will not dry; leave it standing and green until after planting",
    Mark::Read,
    sources::NRCS_COULTERS,
);
