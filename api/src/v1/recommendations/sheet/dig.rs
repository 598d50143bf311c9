//! What to check at the first dig, with lines to write on where there is room.

use domain::quantity::System;
use maud::{Markup, html};

use super::facts::Facts;
use super::words::{from_to, quantity};
use crate::v1::dig_plan::PlannedRowOut;

/// Lines that every sheet with lines has.
const LINES: usize = 3;

/// The first dig.
pub(super) fn first_dig(facts: &Facts, full: bool) -> Markup {
    let depth = &facts.told.settings.depth;
    let stretch = match facts.system {
        System::Us => "50 ft",
        System::Si => "15 m",
    };
    html! {
        section.dig {
            h2 { "First dig: plant " (stretch) ", stop, park, then look" }
            @if let Some(learned) = &facts.told.learned { p { "Learned " (learned.words) "." } }
            p {
                "Open the furrow between gauge wheels and closing wheels on " b { (rows(facts)) }
                (tyres(facts)) ". Not on the headland. Seed wanted at "
                b { (quantity(&depth.value)) } ", safe from "
                (from_to(&depth.safe_low, &depth.safe_high)) ". Wheels should turn by hand, with effort. "
                "One change, then dig again."
                @if full {
                    " Write on the back, for each row: depth of 5 seeds; wheels turn free, with effort, \
                     or not; wall crumbly, smooth or shiny; slot closed, open or packed; straw in it."
                }
            }
            @if !full { (lines_to_write_on(planned(facts).len().clamp(LINES, 5))) }
        }
    }
}

/// The rows of the plan; none in what older engines stored.
fn planned(facts: &Facts) -> &[PlannedRowOut] {
    facts.told.dig_plan.as_ref().map_or(&[], |plan| &plan.rows)
}

/// `rows 1, 3 and 7`.
fn rows(facts: &Facts) -> String {
    let numbers: Vec<String> = planned(facts).iter().map(|it| it.row.to_string()).collect();
    match numbers.split_last() {
        None => {
            "three rows: one on a wing, one in the middle, one behind a tractor tire".to_owned()
        }
        Some((only, [])) => format!("row {only}"),
        Some((last, rest)) => format!("rows {} and {last}", rest.join(", ")),
    }
}

/// Which of them run behind a tyre, or that one should.
fn tyres(facts: &Facts) -> String {
    let behind: Vec<String> =
        planned(facts).iter().filter(|it| it.behind_tyre).map(|it| it.row.to_string()).collect();
    match (planned(facts).is_empty(), behind.is_empty()) {
        (true, _) => String::new(),
        (false, true) => ", and on one behind a tractor tire".to_owned(),
        (false, false) => format!(" (behind a tire: {})", behind.join(", ")),
    }
}

fn lines_to_write_on(lines: usize) -> Markup {
    html! {
            table.write {
                thead {
                    tr {
                        th { "Row" }
                        th { "Depth of 5 seeds" }
                        th { "Wheels turn" small { "free / effort / not" } }
                        th { "Wall" small { "crumbly / smooth / shiny" } }
                        th { "Slot" small { "closed / open / packed" } }
                        th { "Straw in slot" small { "no / yes" } }
                    }
                }
                tbody {
                    @for _ in 0..LINES.min(lines) { tr { @for _ in 0..6 { td {} } } }
                    @for _ in LINES..lines { tr.more { @for _ in 0..6 { td {} } } }
                }
            }
    }
}
