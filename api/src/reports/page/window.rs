//! How many fields were in the window: through the season, by soil and cover, beside others.

use domain::season::report::{ReportOf, SeasonReport, WindowShares};
use maud::{Markup, html};

use crate::reports::charts::{self, Group};
use crate::reports::words::{count, limits, of};

/// With fewer fields a group of one grower is not compared.
const FEWEST_FIELDS: u32 = 5;

/// The share through the season, and the others beside it.
pub(super) fn season(report: &SeasonReport) -> Markup {
    let chart = charts::share(&report.weeks);
    html! {
        @if chart.is_some() || report.others.is_some() {
            section {
                h2 { "In the window as the season went on" }
                p {
                    "A field counts as in the window when a dig finds the load on the gauge wheels and \
                     the depth of the seed both where they should be."
                }
                @if let Some(chart) = chart {
                    figure {
                        (chart)
                        figcaption {
                            "The band is the 95 % interval, with fields as units. Hollow dots rest on fewer \
                             than five fields."
                        }
                    }
                }
                (others(report))
            }
        }
    }
}

/// All others of the practice, for a grower who wants to know where he stands.
fn others(report: &SeasonReport) -> Markup {
    let Some(others) = report.others else { return html! {} };
    html! {
        @if let (Some(first), Some(last)) = (others.shares.first_pass, others.shares.after_adjustment) {
            p {
                "All other growers of the practice together (" (others.growers) "): "
                (of(first)) " at the first dig, " (of(last)) " at the last. Other soils, other covers, other \
                 springs: it is no race."
            }
        }
    }
}

/// By soil and by cover.
pub(super) fn by_class(report: &SeasonReport) -> Markup {
    let window = &report.in_window;
    let few = |shares: &WindowShares| match report.about.of {
        ReportOf::Grower | ReportOf::Planter => shares.fields_dug < FEWEST_FIELDS,
        ReportOf::Practice | ReportOf::Advisor => shares.few_growers,
    };
    let group = |name: &str, shares: WindowShares| Group {
        name: name.to_owned(),
        shares,
        few: few(&shares),
    };
    let soils: Vec<Group> =
        window.by_soil.iter().map(|it| group(super::soil(it.soil), it.shares)).collect();
    let covers: Vec<Group> =
        window.by_cover.iter().map(|it| group(super::cover(it.cover), it.shares)).collect();
    html! {
        @if !(soils.is_empty() && covers.is_empty()) {
            section {
                h2 { "By soil and by cover" }
                p.note {
                    "Groups of fewer than five growers are grey and not compared. Where two intervals \
                     overlap widely, the difference may be chance. Fields were not given their soil or \
                     cover by lot, so a difference is no proof of a cause."
                }
                @if let Some(chart) = charts::groups("In the window by soil", &soils) {
                    h3 { "Soil" }
                    figure { (chart) }
                }
                @if let Some(chart) = charts::groups("In the window by cover", &covers) {
                    h3 { "Cover" }
                    figure { (chart) }
                }
            }
        }
    }
}

/// Advisor by advisor, never ranked.
pub(super) fn advisors(report: &SeasonReport) -> Markup {
    html! {
        @if !report.advisors.is_empty() {
            section {
                h2 { "By advisor" }
                p { "In order of names. Fields and springs differ, so this is no ranking." }
                div.wide { table {
                    thead { tr {
                        th scope="col" { "Advisor" }
                        th.number scope="col" { "Growers" }
                        th.number scope="col" { "First dig" }
                        th.number scope="col" { "Last dig" }
                        th.number scope="col" { "Interval of the last" }
                    } }
                    tbody { @for line in &report.advisors {
                        tr {
                            th scope="row" { (line.advisor.as_ref().map_or("nobody", |it| it.name.as_str())) }
                            td.number { (line.growers) }
                            (figures(line.shares))
                        }
                    } }
                } }
            }
        }
    }
}

fn figures(shares: Option<WindowShares>) -> Markup {
    let first = shares.and_then(|it| it.first_pass);
    let last = shares.and_then(|it| it.after_adjustment);
    html! {
        @match (first, last) {
            (Some(first), Some(last)) => {
                td.number { (of(first)) }
                td.number { (of(last)) }
                td.number { (limits(last)) }
            }
            _ => {
                td.number.few { "–" }
                td.number.few { "–" }
                td.number.few { "too few to compare" }
            }
        }
    }
}

/// How many digs stand behind a report.
pub(super) fn rests_on(report: &SeasonReport) -> String {
    let shares = report.in_window.all;
    format!(
        "{} in {}",
        count(report.about.digs, "dig", "digs"),
        count(shares.fields_dug, "field", "fields")
    )
}
