//! Where seed lay, and what the gauge wheels carried.

use domain::season::report::SeasonReport;
use maud::{Markup, html};

use crate::reports::charts;
use crate::reports::words::In;

/// Depths against the window.
pub(super) fn depths(report: &SeasonReport, system: In) -> Markup {
    let it = &report.depths;
    html! {
        @if let Some(chart) = charts::depths(it, system) {
            section {
                h2 { "Where the seed lay" }
                figure {
                    (chart)
                    figcaption {
                        "Filled bars lie in the window, hollow bars outside. "
                        @if it.least_tolerance != it.most_tolerance {
                            "The window differs from dig to dig; the widest is drawn, the percentages count \
                             each seed against its own. "
                        }
                        "Seeds of a row resemble each other, so these shares carry no interval."
                    }
                }
            }
        }
    }
}

/// Loads against speed.
pub(super) fn loads(report: &SeasonReport, system: In) -> Markup {
    html! {
        @if let Some(chart) = charts::loads(&report.loads, system) {
            section {
                h2 { "Load and speed" }
                figure {
                    (chart)
                    figcaption {
                        "Digs with a logged load. Soils and windows differ from dig to dig: what is too light \
                         in one field is right in another."
                    }
                }
            }
        }
    }
}
