//! What was assumed, what can hurt somebody, and what comes before this sheet.

use maud::{Markup, html};

use super::facts::Facts;

/// Assumptions that fit on the page; the rest is in the recommendation itself.
const MOST_ASSUMED: usize = 8;

/// What nobody measured.
pub(super) fn assumed(facts: &Facts) -> Markup {
    let assumed = &facts.told.assumed;
    let left = assumed.len().saturating_sub(MOST_ASSUMED);
    html! {
        @if !assumed.is_empty() {
            section {
                h2 { "Taken for granted, since nobody measured" }
                p.small {
                    @for (place, it) in assumed.iter().take(MOST_ASSUMED).enumerate() {
                        @if place > 0 { "; " }
                        (it.what) ": " b { (it.used) }
                    }
                    "."
                    @if left > 0 { " And " (left) " more, in the full recommendation." }
                }
            }
        }
    }
}

/// Every caution, in letters as large as the rest.
pub(super) fn cautions(facts: &Facts) -> Markup {
    html! {
        section.box {
            h2 { "So that nobody gets hurt" }
            ul.cautions { @for caution in &facts.told.cautions { li { (caution.text) } } }
        }
    }
}

/// What comes before this sheet, and where its numbers come from.
pub(super) fn foot(facts: &Facts) -> Markup {
    html! {
        footer {
            p {
                b { "The manual, the label, local rules and licensed practice win over this sheet." }
                " Reason, source and range of every number: recommendation "
                (facts.told.id) ", engine " (facts.told.engine) "."
            }
        }
    }
}
