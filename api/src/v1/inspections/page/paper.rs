//! The page itself.

use std::collections::BTreeSet;

use domain::planter::inspection::{Direction, ITEMS, Item, Limit};
use domain::quantity::System;
use domain::settings::Caution;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::super::found::shown;
use super::super::open::OpenReplacement;
use super::super::shed::Shed;
use crate::v1::plain::{from_to, quantity};

/// The look: ink on paper, no colours, the system's own letters.
const STYLE: &str = include_str!("style.css");

/// Most rows that have a box of their own; wider planters get a line for the numbers of rows.
const MOST_BOXES: u16 = 16;

/// What the page says.
#[derive(Debug)]
pub(super) struct Facts {
    /// The grower.
    pub grower: String,
    /// The planter.
    pub planter: String,
    /// All that is known of it in the shed.
    pub shed: Shed,
    /// What is open from before.
    pub open: Vec<OpenReplacement>,
    /// The units of the page.
    pub system: System,
}

/// The page. `nonce` is what the policy of the answer lets pass.
pub(super) fn paper(facts: &Facts, nonce: &str) -> Markup {
    let items: Vec<&Item> =
        ITEMS.iter().filter(|item| item.needs.has(&facts.shed.planter)).collect();
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (facts.planter) ": shed checklist" }
                style nonce=(nonce) { (PreEscaped(STYLE)) }
            }
            body {
                (head(facts))
                (open(facts))
                (cautions(&items))
                (table(facts, &items))
                p.foot {
                    "P pass, W watch, R replace or mend; leave empty what nobody looked at. Write what you \
                     measured on the line. The machine's manual comes before this page; where it is not at \
                     hand, limits are published ones: their sources stand with the limits of the planter."
                }
            }
        }
    }
}

fn head(facts: &Facts) -> Markup {
    html! {
        header {
            div {
                h1 { (facts.planter) }
                p { (facts.grower) ", " (facts.shed.planter.rows) " rows" }
            }
            div.fill {
                p { b { "Shed checklist, front to back" } }
                p { "Day " span.line {} " By " span.line {} }
                p { "Area counter " span.line {} " Still to plant " span.line {} }
            }
        }
    }
}

fn open(facts: &Facts) -> Markup {
    html! {
        @if !facts.open.is_empty() {
            section.open {
                b { "Open from before: " }
                @for (place, it) in facts.open.iter().enumerate() {
                    @if place > 0 { "; " }
                    (it.words) " (" (it.since) ")"
                }
                "."
            }
        }
    }
}

/// Each caution once, in the order of the items.
fn cautions(items: &[&Item]) -> Markup {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let mut words: Vec<String> = Vec::new();
    for caution in items.iter().flat_map(|item| item.cautions).copied() {
        let reason = Caution::reason(caution);
        if let std::borrow::Cow::Borrowed(text) = reason.text
            && seen.insert(text)
        {
            words.push(text.to_owned());
        }
    }
    html! {
        section.cautions {
            ul { @for text in &words { li { (text) } } }
        }
    }
}

fn table(facts: &Facts, items: &[&Item]) -> Markup {
    let rows = facts.shed.planter.rows;
    let boxes = rows <= MOST_BOXES;
    html! {
        table {
            thead {
                tr {
                    th { "Look at" }
                    th.limit { "Replace or mend when" }
                    @if boxes {
                        @for row in 1..=rows { th.row { (row) } }
                    } @else {
                        th { "Rows that are not good: P, W or R" }
                    }
                }
            }
            tbody {
                @for item in items {
                    tr {
                        td { b { (item.name) ". " } (item.look) }
                        td.limit { (worn_when(facts, item)) }
                        (places(item, rows, boxes))
                    }
                }
            }
        }
    }
}

fn places(item: &Item, rows: u16, boxes: bool) -> Markup {
    html! {
        @if !boxes {
            td.write {}
        } @else if item.per_row {
            @for _ in 1..=rows { td.row {} }
        } @else {
            td.write colspan=(rows) {}
        }
    }
}

/// The limit in force in numbers, else the words of the checklist.
fn worn_when(facts: &Facts, item: &Item) -> String {
    let limit = facts.shed.limit(item.code);
    let numbers = limit.zip(item.measure).and_then(|(limit, measure)| {
        let show = |value| shown(&measure, value, facts.system);
        numbers(&limit, show)
    });
    numbers.unwrap_or_else(|| item.replace.to_owned())
}

fn numbers(limit: &Limit, show: impl Fn(f64) -> crate::http::quantity::Quantity) -> Option<String> {
    match (limit.direction, limit.watch, limit.replace) {
        (Direction::Falls, _, Some(at)) if limit.at_counts => {
            Some(format!("{} or less", quantity(&show(at))))
        }
        (Direction::Falls, _, Some(at)) => Some(format!("less than {}", quantity(&show(at)))),
        (Direction::Rises, _, Some(at)) if limit.at_counts => {
            Some(format!("{} or more", quantity(&show(at))))
        }
        (Direction::Rises, _, Some(at)) => Some(format!("more than {}", quantity(&show(at)))),
        (Direction::Between, Some(low), Some(high)) => {
            Some(format!("not {}", from_to(&show(low), &show(high))))
        }
        (Direction::Between, None, Some(most)) => Some(format!("over {}", quantity(&show(most)))),
        _ => None,
    }
}
