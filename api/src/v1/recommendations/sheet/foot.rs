//! What was assumed, what can hurt somebody, and what comes before this sheet.

use maud::{Markup, html};

use super::facts::Facts;
use crate::v1::recommendations::CautionCode;
use crate::v1::recommendations::answer::CautionOut;

/// Assumptions that fit on the page; the rest is in the recommendation itself.
const MOST_ASSUMED: usize = 6;

/// Those that fit where the page is full.
const FEWEST_ASSUMED: usize = 2;

/// What nobody measured.
pub(super) fn assumed(facts: &Facts, full: bool) -> Markup {
    let assumed = &facts.told.assumed;
    let most = if full { FEWEST_ASSUMED } else { MOST_ASSUMED };
    let left = assumed.len().saturating_sub(most);
    html! {
        @if !assumed.is_empty() {
            section {
                h2 { "Taken for granted, since nobody measured" }
                p.small {
                    @for (place, it) in assumed.iter().take(most).enumerate() {
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

/// Every caution, in letters as large as the rest. What wins over the sheet closes it.
pub(super) fn cautions(facts: &Facts) -> Markup {
    let closing = |it: &&CautionOut| it.code == CautionCode::ManualWins;
    html! {
        section.box {
            h2 { "So that nobody gets hurt" }
            ul.cautions {
                @for caution in facts.told.cautions.iter().filter(|it| !closing(it)) {
                    li { (caution.text) }
                }
            }
            @for caution in facts.told.cautions.iter().filter(closing) {
                p { b { (caution.text) } }
            }
        }
    }
}

/// Where the numbers come from.
pub(super) fn foot(facts: &Facts) -> Markup {
    html! {
        footer {
            p {
                "Where every number comes from: recommendation " (facts.told.id)
                ", engine " (facts.told.engine) "."
            }
        }
    }
}
