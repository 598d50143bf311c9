//! What an entry says, in words that a grower uses.

use domain::dig::{DepthStatistics, Judgement, NoticeCode};
use serde::Serialize;

use super::dto::TimelineKind;
use crate::entities::{adjustments, calibrations, conditions_reports, dig_checks, recommendations};
use crate::http::ApiError;
use crate::v1::adjustments::store::proposal_of;
use crate::v1::calibrations::store::line;
use crate::v1::conditions::dto::{ConditionsIn, CoverCropIn};
use crate::v1::dig_checks::answer::{DigNotice, set, words};
use crate::v1::dig_checks::store::{judgement_of, notices_of};
use crate::v1::plain::{from_to, quantity};
use crate::v1::recommendations::show::Show;
use crate::v1::recommendations::store::result_of;

/// The words of an entry.
#[derive(Debug, Clone)]
pub(super) struct Told {
    /// What happened, in a few words.
    pub title: String,
    /// What it says.
    pub summary: String,
}

/// What was seen, as it was entered.
pub(super) fn conditions(row: &conditions_reports::Model) -> Result<Told, ApiError> {
    let seen = ConditionsIn::stored(row)?;
    let soil = [
        seen.moisture.map(word),
        seen.ball.map(|ball| format!("the ball {}", word(ball))),
        seen.ribbon.as_ref().map(|length| format!("a ribbon of {}", quantity(length))),
    ];
    let soil: Vec<String> = soil.into_iter().flatten().collect();
    let depth = seen.temperature_depth.as_ref().map_or_else(|| "seed depth".into(), quantity);
    let parts = [
        Some(capital(&word(seen.crop))),
        seen.texture.map(word),
        (!soil.is_empty()).then(|| soil.join(", ")),
        seen.soil_temperature.as_ref().map(|t| format!("{} at {depth}", quantity(t))),
        seen.rain.as_ref().map(|rain| format!("{} of rain expected", quantity(rain))),
        seen.cover.as_ref().map(cover),
        seen.previous_crop.map(|crop| format!("after {}", word(crop))),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    Ok(Told { title: "Conditions".to_owned(), summary: format!("{}.", parts.join("; ")) })
}

fn cover(it: &CoverCropIn) -> String {
    let parts = [Some(word(it.species)), it.state.map(word), it.height.as_ref().map(quantity)];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// The settings of a revision, and what became of it.
pub(super) fn recommendation(
    row: &recommendations::Model,
    kind: TimelineKind,
    show: Show,
) -> Result<Told, ApiError> {
    let result = result_of(row)?;
    let force = &result.down_force;
    let settings = format!(
        "{}. Down force {} on every row{}. Depth {}, speed {}.",
        capital(&word(crate::v1::recommendations::Verdict::from(result.today.choice))),
        quantity(&show.down_force(force.per_row)),
        set(&force.setting, show),
        quantity(&show.depth(result.depth_used)),
        quantity(&show.speed(result.speed.choice.start)),
    );
    let (became, summary) = match kind {
        TimelineKind::RecommendationIssued => ("issued", settings),
        TimelineKind::RecommendationAcknowledged => ("acknowledged", settings),
        TimelineKind::RecommendationSuperseded => {
            ("superseded", "A later revision counts now.".to_owned())
        }
        _ => ("made", settings),
    };
    Ok(Told { title: format!("Revision {} {became}", row.revision), summary })
}

/// What a dig found and what it asks for.
pub(super) fn dig(row: &dig_checks::Model, show: Show) -> Result<Told, ApiError> {
    let Judgement { statistics, proposal, .. } = judgement_of(row)?;
    let found = statistics
        .depth
        .map_or_else(|| "No depth was measured.".to_owned(), |depth| depth_found(&depth, show));
    let noticed = noticed(&notices_of(row)?);
    let summary = format!("{found} {}{noticed}", words(&proposal.change, show));
    Ok(Told { title: "Dig check".to_owned(), summary })
}

/// ` Note: ` and what is to be known about the dig; nothing for an ordinary one.
fn noticed(notices: &[DigNotice]) -> String {
    let brief = |notice: &DigNotice| NoticeCode::from(notice.code).brief();
    let list: Vec<&str> = notices.iter().map(brief).collect();
    if list.is_empty() { String::new() } else { format!(" Note: {}.", list.join("; ")) }
}

fn depth_found(depth: &DepthStatistics, show: Show) -> String {
    format!(
        "{}, {}: mean {}, wanted {}; {}.",
        counted(depth.rows.len(), "row"),
        counted(usize::try_from(depth.seeds).unwrap_or(usize::MAX), "seed"),
        quantity(&show.found(depth.planter.mean)),
        quantity(&show.found(depth.target)),
        depth.settled.words,
    )
}

fn counted(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

/// What a dig proposed, and what was decided.
pub(super) fn adjustment(
    row: &adjustments::Model,
    kind: TimelineKind,
    show: Show,
) -> Result<Told, ApiError> {
    let change = words(&proposal_of(row)?.change, show);
    let declined = kind == TimelineKind::AdjustmentDeclined;
    let title = match kind {
        TimelineKind::AdjustmentAccepted => "Change accepted",
        TimelineKind::AdjustmentDeclined => "Change declined",
        _ => "Change proposed",
    };
    let reason = row.reason.as_ref().filter(|_| declined);
    let summary = match reason {
        Some(reason) => format!("{change} Declined: {reason}"),
        None => change,
    };
    Ok(Told { title: title.to_owned(), summary })
}

/// What was measured on the planter.
pub(super) fn calibration(row: &calibrations::Model, show: Show) -> Result<Told, ApiError> {
    let line = line(row)?;
    let (least, most) = line.pressure_range();
    let (low, high) = line.force_range();
    let summary = format!(
        "{}: {} give {} at the gauge wheels of a row.",
        counted(line.fit().points, "point"),
        from_to(&show.pressure(least), &show.pressure(most)),
        from_to(&show.down_force(low), &show.down_force(high)),
    );
    Ok(Told { title: "Down force calibrated".to_owned(), summary })
}

/// The word of an enum of the wire, with spaces.
fn word(it: impl Serialize) -> String {
    let word = serde_json::to_value(it).ok();
    word.and_then(|word| word.as_str().map(|text| text.replace('_', " "))).unwrap_or_default()
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
