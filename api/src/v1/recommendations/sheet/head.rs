//! Whose sheet it is, and whether to plant.

use domain::conditions::Crop;
use maud::{Markup, html};

use super::cover::contradictions;
use super::facts::Facts;
use super::words::{quantity, sentence};
use crate::v1::recommendations::show::Show;
use crate::v1::recommendations::words::{RecommendationStatus, Verdict};

/// The names, the revision and the date.
pub(super) fn head(facts: &Facts) -> Markup {
    let told = &facts.told;
    let planter = &facts.inputs.planter;
    let width = quantity(&Show(facts.system).row_width(planter.row_width));
    let day = told.issued_at.unwrap_or(told.created_at).date_naive();
    html! {
        header {
            div {
                h1 { (facts.field) }
                p.name { (facts.farm) ", " b { (facts.grower) } }
                p.name { (facts.planter) ", " (planter.rows) " rows at " (width) ", " (crop(facts)) }
            }
            div.right {
                p { b { "Settings sheet" } }
                p { "Revision " b { (told.revision) } ", " (day) }
                p { (status(told.status)) }
                p.name { (facts.practice) }
            }
        }
    }
}

fn crop(facts: &Facts) -> &'static str {
    match facts.inputs.field.crop {
        Crop::Corn => "corn",
        Crop::Soybean => "soybean",
    }
}

fn status(status: RecommendationStatus) -> &'static str {
    match status {
        RecommendationStatus::Draft => "DRAFT, not issued",
        RecommendationStatus::Issued | RecommendationStatus::Acknowledged => "Issued",
        RecommendationStatus::Superseded => "OLD: a later revision counts",
    }
}

/// Open replacements that are named on the page.
const MOST_NAMED: usize = 3;

/// What is still to be mended on the planter: no setting makes up for it.
fn in_shed(facts: &Facts, full: bool) -> Markup {
    let open = &facts.told.open_replacements;
    let named = if full { 1 } else { MOST_NAMED };
    let left = open.len().saturating_sub(named);
    html! {
        @if !open.is_empty() {
            p {
                b { "Mend first: " }
                @for (place, it) in open.iter().take(named).enumerate() {
                    @if place > 0 { "; " }
                    (it.words)
                }
                @if left > 0 { "; and " (left) " more" }
                ". Found in the shed; no setting makes up for it."
            }
        }
        @if let Some(opener) = facts.told.opener_measured.as_ref().filter(|_| !full) {
            p.small { (opener.words) }
        }
    }
}

/// Whether to plant, in letters that can be read from the seat.
pub(super) fn verdict(facts: &Facts, full: bool) -> Markup {
    let today = &facts.told.today;
    let (word, then) = match today.verdict {
        Verdict::Plant => ("PLANT", "Fit to plant as it was seen."),
        Verdict::Wait => ("WAIT", "Not yet. Look again in half a day."),
        Verdict::Stop => ("STOP", "Do not plant. It would do lasting harm."),
    };
    let reasons = today.because.iter().take(3);
    html! {
        section.verdict {
            p.word { (word) }
            div {
                p { b { (then) } }
                p { @for reason in reasons { (sentence(&reason.text)) " " } }
                @if let Some(watch) = today.watch.first() {
                    p { b { "Watch: " } (sentence(&watch.text)) }
                }
                (contradictions(facts, full))
                (in_shed(facts, full))
                p.small {
                    "Field seen on " (facts.seen_at.date_naive())
                    ". If it rained since, or the soil feels wetter, look again first."
                }
            }
        }
    }
}
