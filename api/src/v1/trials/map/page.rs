//! The whole page, part by part.

use domain::settings::Caution;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::facts::Facts;
use super::ink::patterns;
use super::{STYLE, bar, field, table, words};
use crate::entities::trials::Status;

/// Cautions for work on the planter and behind it.
const CAUTIONS: [Caution; 5] = [
    Caution::BlockAndRelieve,
    Caution::SpringsStoreEnergy,
    Caution::ResiduesOnParts,
    Caution::DiggingBehind,
    Caution::ManualWins,
];

/// The page. `nonce` is what the policy of the answer lets pass.
pub(super) fn page(facts: &Facts, nonce: &str) -> Markup {
    let title = format!("{}: trial map", facts.row.name);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style nonce=(nonce) { (PreEscaped(STYLE)) }
            }
            body class=(size(facts)) {
                svg.none aria-hidden="true" { (patterns()) }
                (head(facts, "Trial map"))
                main {
                    (compared(facts))
                    (bar::planter(facts))
                    (field::field(facts))
                    (table::lines(facts))
                    (how(facts))
                    (cautions())
                }
                footer { p { "Trial " (facts.row.id) ". " (drawn(facts)) } }
            }
        }
    }
}

/// Many plots need smaller letters to stay on one page.
fn size(facts: &Facts) -> &'static str {
    match facts.layout.plots.len() {
        0..=16 => "roomy",
        17..=36 => "close",
        _ => "tight",
    }
}

/// Whose trial it is.
pub(in crate::v1::trials) fn head(facts: &Facts, what: &str) -> Markup {
    let day = facts.row.started_at.unwrap_or(facts.row.created_at).date_naive();
    html! {
        header {
            div {
                h1 { (facts.row.name) }
                p.name { (facts.field) ", " (facts.farm) ", " b { (facts.grower) } }
                p.name { (facts.planter) ", " (facts.planter_rows) " rows" }
                @if let Some(question) = &facts.design.question { p { i { (question) } } }
            }
            div.right {
                p { b { (what) } }
                p { (day) }
                p { (status(facts.row.status)) }
                p.name { (facts.practice) }
            }
        }
    }
}

fn status(status: Status) -> &'static str {
    match status {
        Status::Draft => "DRAFT: the layout may change",
        Status::Running => "Running",
        Status::Closed => "Closed",
    }
}

fn compared(facts: &Facts) -> Markup {
    html! {
        section.compared {
            @for (place, it) in (0_u16..).zip(&facts.design.treatments) {
                p {
                    b.letter { (Facts::letter(place)) } " " (it.name)
                    @if it.control { small { "as today" } }
                }
            }
        }
    }
}

fn how(facts: &Facts) -> Markup {
    html! {
        section.pair {
            div {
                h2 { "How to do it" }
                ol { @for step in words::steps(facts) { li { (step) } } }
            }
            div {
                h2 { "Know before you plant" }
                @if facts.layout.notices.is_empty() { p { "Nothing speaks against this layout." } }
                ul { @for notice in &facts.layout.notices { li { (sentence(&notice.text)) } } }
            }
        }
    }
}

fn cautions() -> Markup {
    html! {
        section.box {
            h2 { "So that nobody gets hurt" }
            ul.cautions { @for it in CAUTIONS { li { (it.reason().text) } } }
        }
    }
}

fn drawn(facts: &Facts) -> String {
    match facts.layout.seed {
        Some(seed) => format!("Drawn from the seed {seed} by {}.", facts.layout.method),
        None => "Not drawn: chance did not decide what lies where.".to_owned(),
    }
}

/// With a capital and a full stop.
pub(in crate::v1::trials) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string());
    let mut made = first.unwrap_or_default() + letters.as_str();
    if !made.is_empty() && !made.ends_with(['.', '!', '?']) {
        made.push('.');
    }
    made
}
