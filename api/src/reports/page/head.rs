//! Whose season it is.

use domain::season::report::{ReportOf, SeasonReport};
use maud::{Markup, html};

use crate::reports::words::{count, date};

/// The grower, planter or advisor; else the practice.
pub fn subject(report: &SeasonReport) -> &str {
    report.about.subject.as_ref().map_or(report.about.practice.as_str(), |it| it.name.as_str())
}

fn kind(of: ReportOf) -> &'static str {
    match of {
        ReportOf::Practice => "practice",
        ReportOf::Grower => "grower",
        ReportOf::Planter => "planter",
        ReportOf::Advisor => "advisor and the growers looked after now",
    }
}

pub(super) fn head(report: &SeasonReport) -> Markup {
    let about = &report.about;
    html! {
        header {
            div {
                h1 { (subject(report)) }
                p.name {
                    "Season " b { (about.season) } ", " (date(about.first_day)) " to "
                    (date(about.last_day))
                }
                p.name { (worked(report)) }
            }
            div.right {
                p { b { "Season report" } " of a " (kind(about.of)) }
                p { (about.practice) }
                p { "Figures of " (date(about.as_of.date_naive())) }
                @if about.so_far.days < about.so_far.of { p { b { (about.so_far.words) } } }
            }
        }
    }
}

/// How much there was.
fn worked(report: &SeasonReport) -> String {
    let about = &report.about;
    let growers = count(about.growers, "grower", "growers");
    let left = match about.growers_left {
        0 => String::new(),
        some => format!(" ({some} left since)"),
    };
    let rest = format!(
        "{}, {}, {}",
        count(about.planters, "planter", "planters"),
        count(about.fields, "field", "fields"),
        count(about.digs, "dig", "digs")
    );
    match about.of {
        ReportOf::Grower | ReportOf::Planter => rest,
        ReportOf::Practice | ReportOf::Advisor => format!("{growers}{left}, {rest}"),
    }
}
