//! The whole page, part by part.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::facts::Facts;
use super::size::{PAGE, SIZES};
use super::{cover, dig, foot, force, head, table};

/// The look: ink on paper, no colours, the system's own letters.
const STYLE: &str = include_str!("style.css");

/// The page. `nonce` is what the policy of the answer lets pass.
pub(super) fn page(facts: &Facts, nonce: &str) -> Markup {
    let title = format!("{}: settings sheet, revision {}", facts.field, facts.told.revision);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style nonce=(nonce) { (PreEscaped(STYLE)) }
            }
            (fitted(facts))
        }
    }
}

/// The largest letters with which it stays one page; where none do, what can wait is left out.
fn fitted(facts: &Facts) -> Markup {
    let roomy = SIZES.iter().find_map(|size| {
        let made = body(facts, size.class, false);
        (size.height(&made.0) <= PAGE).then_some(made)
    });
    roomy.unwrap_or_else(|| body(facts, "tight least last", true))
}

/// What is on it, for paper: with what can wait, or `full` without it.
pub(super) fn on_paper(facts: &Facts, full: bool) -> Markup {
    body(facts, "", full)
}

fn body(facts: &Facts, class: &str, full: bool) -> Markup {
    html! {
        body class=(class) {
            (head::head(facts))
            (head::verdict(facts, full))
            main {
                (table::settings(facts, full))
                (force::hopper(facts))
                (force::remedies(facts))
                (cover::cover(facts))
                (dig::first_dig(facts, full))
                (foot::assumed(facts, full))
                (foot::cautions(facts))
            }
            (foot::foot(facts))
        }
    }
}
