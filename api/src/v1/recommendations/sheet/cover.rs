//! What contradicts itself, and what the cover crop asks for beside the settings. Only what matters.

use domain::conditions::CoverState;
use maud::{Markup, html};

use super::facts::Facts;
use super::words::{from_to, sentence};
use crate::v1::conditions::{BridgeRisk, PestLevel, TerminationVerdict};

/// Contradictions that fit on the page; the rest is in the recommendation itself.
const MOST_SHOWN: usize = 2;

/// Those that fit where the page is full.
const FEWEST_SHOWN: usize = 1;

/// Readings that cannot all be true, and which of them was used.
pub(super) fn contradictions(facts: &Facts, full: bool) -> Markup {
    let found = &facts.told.contradictions;
    let most = if full { FEWEST_SHOWN } else { MOST_SHOWN };
    let left = found.len().saturating_sub(most);
    html! {
        @for it in found.iter().take(most) {
            p { b { "Look again: " } (sentence(&it.what)) " Used here: " (sentence(&it.used)) }
        }
        @if left > 0 { p.small { "And " (left) " more, in the full recommendation." } }
    }
}

/// Nitrogen, the day of the end, and insects.
pub(super) fn cover(facts: &Facts) -> Markup {
    let lines = lines(facts);
    html! {
        @if !lines.is_empty() {
            section.said {
                h2 { "Cover crop" }
                ul { @for line in &lines { li { (line) } } }
            }
        }
    }
}

/// Each line of that section.
fn lines(facts: &Facts) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(cover) = &facts.told.cover {
        lines.extend(cover.starter.as_ref().map(|starter| {
            format!(
                "It ties up nitrogen: {} beside the row at planting, never in the furrow.",
                from_to(&starter.low, &starter.high)
            )
        }));
        lines.extend(last_day(facts));
        if cover.green_bridge == BridgeRisk::High {
            lines.push(
                "Ended after planting: scout for cutworm and armyworm from emergence on."
                    .to_owned(),
            );
        }
    }
    let pressing = facts.told.pests.iter().filter(|it| it.level != PestLevel::Below);
    lines.extend(pressing.map(|it| sentence(&it.reason.text)));
    lines
}

/// The last day for ending a cover that lives, or that is ended too late.
fn last_day(facts: &Facts) -> Option<String> {
    let termination = &facts.told.cover.as_ref()?.termination;
    let latest = termination.latest?;
    let state = facts.inputs.field.cover.and_then(|cover| cover.state);
    let dead = matches!(state, Some(CoverState::DeadCrisp | CoverState::DeadDamp));
    let asked = "Guidance: check the policy, the agent, and the herbicide label; they override.";
    match termination.verdict {
        TerminationVerdict::Late => {
            Some(format!("ENDED LATE: the last day by the zone is {latest}. {asked}"))
        }
        TerminationVerdict::NotKnown if !dead => {
            Some(format!("End it by {latest}, and before the crop emerges. {asked}"))
        }
        TerminationVerdict::NotKnown | TerminationVerdict::InTime => None,
    }
}
