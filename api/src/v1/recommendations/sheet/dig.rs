//! What to check at the first dig, with lines to write on where there is room.

use domain::quantity::System;
use maud::{Markup, html};

use super::facts::Facts;
use super::words::{from_to, quantity};

/// Rows that are dug first: enough to see a spread.
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
            p {
                "Open the furrow between gauge wheels and closing wheels on three rows: one on a wing, \
                 one in the middle, one behind a tractor tire. Not on the headland. Seed wanted at "
                b { (quantity(&depth.value)) } ", safe from "
                (from_to(&depth.safe_low, &depth.safe_high)) ". Wheels should turn by hand, with effort. "
                "One change, then dig again."
                @if full {
                    " Write on the back, for each row: depth of 5 seeds; wheels turn free, with effort, \
                     or not; wall crumbly, smooth or shiny; slot closed, open or packed; straw in it."
                }
            }
            @if !full { (lines_to_write_on()) }
        }
    }
}

fn lines_to_write_on() -> Markup {
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
                    @for _ in 0..LINES { tr { @for _ in 0..6 { td {} } } }
                }
            }
    }
}
