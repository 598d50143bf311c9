//! The report as a page: the answer first, then figures, charts and tables, and what can't be
//! concluded. For a grower his planters and fields come first, for the practice the programme.

mod answer;
mod cards;
mod classes;
mod crops;
mod digging;
mod ends;
mod fields;
mod head;
mod shed;
#[cfg(test)]
mod tests;
mod window;
mod work;

use domain::season::report::{ReportOf, SeasonReport};
use maud::{DOCTYPE, Markup, PreEscaped, html};

pub use self::classes::{cause, class, cover, crop, shed_reason, soil};
pub use self::head::subject;
use super::words::In;

const STYLE: &str = include_str!("style.css");

/// The whole page. `nonce` is what the policy of the answer lets pass.
pub fn page(report: &SeasonReport, system: In, nonce: &str) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title(report)) }
                style nonce=(nonce) { (PreEscaped(STYLE)) }
            }
            (body(report, system))
        }
    }
}

/// What the page is called.
pub fn title(report: &SeasonReport) -> String {
    format!("Season {}: {}", report.about.season, subject(report))
}

/// What is on it.
pub fn body(report: &SeasonReport, system: In) -> Markup {
    html! {
        body {
            (head::head(report))
            main {
                (answer::answer(report))
                (cards::cards(report, system))
                @match report.about.of {
                    ReportOf::Grower | ReportOf::Planter => (of_a_grower(report, system)),
                    ReportOf::Practice | ReportOf::Advisor => (of_many(report, system)),
                }
            }
        }
    }
}

/// What he can mend and what his fields did, then why.
fn of_a_grower(report: &SeasonReport, system: In) -> Markup {
    html! {
        (shed::list(report, false))
        (fields::fields(report, system))
        (digging::depths(report, system))
        (window::season(report))
        (digging::loads(report, system))
        (work::adjustments(report))
        (crops::stands(report, system))
        (crops::trials(report))
        (shed::wear(report, system))
        (work::learned(report))
        (work::weeks(report))
        (work::money_and_time(report, system))
        (ends::limits(report))
        (ends::cautions(report))
    }
}

/// What the programme did and found; the pages that name growers' planters and fields come last.
fn of_many(report: &SeasonReport, system: In) -> Markup {
    html! {
        (window::season(report))
        (digging::depths(report, system))
        (window::by_class(report))
        (window::advisors(report))
        (digging::loads(report, system))
        (work::weeks(report))
        (work::adjustments(report))
        (work::learned(report))
        (work::money_and_time(report, system))
        (crops::trials(report))
        (ends::limits(report))
        (named(report, system))
        (ends::cautions(report))
    }
}

/// Rows of a list that a page shows; the workbook and the data package hold all of them.
const MOST_ROWS: usize = 60;

/// What was left out of a list.
fn and_more(all: usize) -> Markup {
    let more = all.saturating_sub(MOST_ROWS);
    html! { @if more > 0 { p.note { "And " (more) " more, in the workbook and the data package." } } }
}

/// What names planters and fields.
fn named(report: &SeasonReport, system: In) -> Markup {
    html! {
        @if !(report.shed_list.is_empty() && report.wear.is_empty() && report.stands.is_empty()) {
            section.page {
                p.note {
                    "From here on planters and fields are named. Leave these pages out when the report \
                     goes to anybody outside the practice."
                }
                (shed::list(report, true))
                (shed::wear(report, system))
                (crops::stands(report, system))
            }
        }
    }
}
