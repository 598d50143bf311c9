//! What came up, and what trials found.

use domain::season::report::{FieldStand, SeasonReport, TrialSummary};
use maud::{Markup, html};

use crate::reports::charts;
use crate::reports::words::{In, date, number, percent, sentence};

/// Trials that a page shows.
const MOST_TRIALS: usize = 12;

/// Stands that were counted.
pub(super) fn stands(report: &SeasonReport, system: In) -> Markup {
    html! {
        @if !report.stands.is_empty() {
            section {
                h2 { "Stands" }
                div.wide { table {
                    thead { tr {
                        th scope="col" { "Field" }
                        th scope="col" { "Crop" }
                        th.nowrap scope="col" { "Planted" }
                        th.nowrap scope="col" { "Counted" }
                        th.number scope="col" { "Plants, " (system.plants_unit()) }
                        th.number scope="col" { "Came up" }
                        th scope="col" { "Stand" }
                    } }
                    tbody { @for stand in report.stands.iter().take(super::MOST_ROWS) { (stand_row(stand, system)) } }
                } }
                (super::and_more(report.stands.len()))
                p.note { "In brackets the 95 % interval of the plants." }
            }
        }
    }
}

fn stand_row(stand: &FieldStand, system: In) -> Markup {
    let plants = |it| number(system.plants_value(it), 0);
    html! {
        tr {
            th scope="row" { (stand.field.name) }
            td { (super::crop(stand.crop)) }
            td.nowrap { (crate::reports::words::day(stand.planted_on)) }
            td.nowrap { (crate::reports::words::day(stand.counted_on)) }
            td.number {
                (plants(stand.population))
                @if let (Some(low), Some(high)) = (stand.population_low, stand.population_high) {
                    small.note { "(" (plants(low)) " to " (plants(high)) ")" }
                }
            }
            td.number { (stand.emergence.map_or_else(|| "–".to_owned(), percent)) }
            td { (sentence(&stand.words)) }
        }
    }
}

/// Trials, each with its verdict first.
pub(super) fn trials(report: &SeasonReport) -> Markup {
    html! {
        @if !report.trials.is_empty() {
            section {
                h2 { "Trials" }
                @for trial in report.trials.iter().take(MOST_TRIALS) { (one(trial)) }
                @if report.trials.len() > MOST_TRIALS {
                    p.note { "And " (report.trials.len() - MOST_TRIALS) " more, in the workbook." }
                }
            }
        }
    }
}

fn one(trial: &TrialSummary) -> Markup {
    html! {
        div.together {
            h3 { (trial.trial.name) }
            p { (sentence(&trial.verdict)) }
            @if let Some(chart) = charts::effects(trial) {
                figure {
                    (chart)
                    figcaption { "Design: " (trial.design) "." }
                }
            }
        }
    }
}

/// The day of the last count, to say what was not counted.
pub(super) fn last_count(report: &SeasonReport) -> Option<String> {
    report.stands.iter().map(|stand| stand.counted_on).max().map(date)
}
