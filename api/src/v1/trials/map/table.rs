//! What to write down at each plot.

use domain::trial::Plot;
use maud::{Markup, html};

use super::facts::Facts;
use crate::v1::trials::measured::Wanted;

/// Most lines of one table.
const MOST_LINES: usize = 18;

/// A line for each plot, in as many tables side by side as there must be.
pub(super) fn lines(facts: &Facts) -> Markup {
    let plots = &facts.layout.plots;
    let tables = plots.len().div_ceil(MOST_LINES).max(1);
    let each = plots.len().div_ceil(tables).max(1);
    html! {
        section {
            h2 { "Write down at each plot" }
            @if tables > 1 { p.small { "For each plot: " (asked(&facts.wanted)) "." } }
            div.beside {
                @for part in plots.chunks(each) { (one(part, facts, tables == 1)) }
            }
        }
    }
}

fn one(plots: &[Plot], facts: &Facts, wide: bool) -> Markup {
    html! {
        table.write {
            thead {
                tr {
                    th { "Plot" } th { "Block" } th { "" }
                    @if wide {
                        @for it in &facts.wanted { th { (heading(it)) } }
                    } @else {
                        th { "Found" }
                    }
                    @if wide { th { "Remarks" } }
                }
            }
            tbody {
                @for plot in plots {
                    tr {
                        td { b { (plot.number) } } td { (plot.block) }
                        td { b { (Facts::letter(plot.treatment)) } }
                        @if wide {
                            @for _ in &facts.wanted { td {} }
                            td {}
                        } @else {
                            td.found {}
                        }
                    }
                }
            }
        }
    }
}

fn heading(it: &Wanted) -> String {
    let unit = &it.response.unit;
    if unit.is_empty() { it.response.what.clone() } else { format!("{}, {unit}", it.response.what) }
}

fn asked(wanted: &[Wanted]) -> String {
    wanted.iter().map(heading).collect::<Vec<_>>().join("; ")
}
