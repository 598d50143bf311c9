//! What was done: week by week, what was changed and why, what was learned, land and hours.

use domain::quantity::Measured;
use domain::season::report::SeasonReport;
use maud::{Markup, html};

use crate::reports::charts;
use crate::reports::words::{In, count, number, sentence};

/// Week by week.
pub(super) fn weeks(report: &SeasonReport) -> Markup {
    html! {
        @if let Some(chart) = charts::weeks(&report.weeks) {
            section {
                h2 { "The season week by week" }
                figure {
                    (chart)
                    figcaption { "All four on one scale; figures at the left are totals of revisions and digs." }
                }
            }
        }
    }
}

/// What was changed, and why.
pub(super) fn adjustments(report: &SeasonReport) -> Markup {
    let it = &report.adjustments;
    html! {
        @if it.proposed > 0 {
            section {
                h2 { "What digs asked to change" }
                p {
                    (count(it.proposed, "change", "changes")) " proposed: " (it.accepted) " accepted, "
                    (it.declined) " declined, " (it.open) " still open."
                }
                table {
                    thead { tr {
                        th scope="col" { "Because of" }
                        th.number scope="col" { "Proposed" }
                        th.number scope="col" { "Accepted" }
                        th.number scope="col" { "Declined" }
                    } }
                    tbody { @for cause in &it.causes {
                        tr {
                            th scope="row" { (sentence(super::cause(cause.cause)).trim_end_matches('.')) }
                            td.number { (cause.proposed) }
                            td.number { (cause.accepted) }
                            td.number { (cause.declined) }
                        }
                    } }
                }
            }
        }
    }
}

/// What digs taught.
pub(super) fn learned(report: &SeasonReport) -> Markup {
    let with_planter = report.learned.iter().any(|it| it.planter.is_some());
    html! {
        @if !report.learned.is_empty() {
            section {
                h2 { "What digs taught" }
                p {
                    "How much harder or softer soil is on the row unit than its description lets expect: 1 is \
                     as expected, 2 twice as hard. The ranges hold nine in ten."
                }
                table {
                    thead { tr {
                        @if with_planter { th scope="col" { "Planter" } }
                        th scope="col" { "Soil and cover" }
                        th.number scope="col" { "Digs" }
                        th.number scope="col" { "Before any dig" }
                        th.number scope="col" { "With all digs" }
                    } }
                    tbody { @for it in &report.learned {
                        tr {
                            @if with_planter { td { (it.planter.as_ref().map_or("–", |it| it.name.as_str())) } }
                            th scope="row" { (super::class(it.class)) }
                            td.number { (it.digs) }
                            td.number { (range(it.before.low, it.before.likely, it.before.high)) }
                            td.number { b { (range(it.after.low, it.after.likely, it.after.high)) } }
                        }
                    } }
                }
            }
        }
    }
}

fn range(low: f64, likely: f64, high: f64) -> String {
    format!("{} ({} to {})", number(likely, 2), number(low, 2), number(high, 2))
}

/// Land, hours, prices; nothing that nobody entered.
pub(super) fn money_and_time(report: &SeasonReport, system: In) -> Markup {
    let it = &report.money_and_time;
    let hours = it.hours.si() / 3600.0;
    html! {
        @if it.plantings > 0 || !it.money.is_empty() {
            section {
                h2 { "Money and time" }
                p {
                    (count(it.plantings, "planting", "plantings")) " reported, " (system.area(it.planted)) "."
                    @if it.plantings_with_hours > 0 {
                        " Hours are known of " (it.plantings_with_hours) " of them: " (number(hours, 0))
                        " h for " (system.area(it.planted_with_hours)) "."
                    } @else {
                        " Nobody entered hours."
                    }
                }
                @if it.money.is_empty() {
                    p.note { "Nobody entered prices, so no money is reckoned up." }
                } @else {
                    table {
                        thead { tr {
                            th scope="col" { "Prices that were entered" }
                            th.number scope="col" { "Entries" }
                            th.number scope="col" { "Sum" }
                        } }
                        tbody { @for line in &it.money {
                            tr {
                                th scope="row" { (line.words) }
                                td.number { (line.entries) }
                                td.number { (number(line.amount, 2)) " " (line.currency) }
                            }
                        } }
                    }
                }
            }
        }
    }
}
