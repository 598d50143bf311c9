//! The shed: what to mend, and how parts wear.

use domain::season::report::{SeasonReport, ShedItem, WornPart};
use maud::{Markup, html};

use crate::reports::words::{In, count, date, rows, sentence, without_rows};

/// The list for the shed. `named` says which planter, where there are several.
pub(super) fn list(report: &SeasonReport, named: bool) -> Markup {
    let list = &report.shed_list;
    let several = named || report.about.planters > 1;
    html! {
        section {
            h2 { "For the shed" }
            @if list.is_empty() {
                p { "Nothing is on the list. It holds what inspections, measured wear and digs point to; what nobody looked at is not on it." }
            } @else {
                table {
                    thead { tr {
                        @if several { th scope="col" { "Planter" } }
                        th scope="col" { "Mend or look at" }
                        th scope="col" { "Rows" }
                        th scope="col" { "Why" }
                        th.nowrap scope="col" { "Last seen" }
                    } }
                    tbody { @for item in list.iter().take(super::MOST_ROWS) {
                        tr {
                            @if several { td { (item.planter.name) } }
                            th scope="row" { (sentence(without_rows(&item.words)).trim_end_matches('.')) }
                            td { (which(&item.rows)) }
                            td { (why(item)) }
                            td.nowrap { (item.day.map_or_else(|| "–".to_owned(), date)) }
                        }
                    } }
                }
                (super::and_more(list.len()))
            }
        }
    }
}

fn which(numbers: &[u16]) -> String {
    let text = rows(numbers);
    match text.split_once(' ') {
        Some((_, numbers)) => numbers.to_owned(),
        None => "all, or not known".to_owned(),
    }
}

fn why(item: &ShedItem) -> String {
    let reason = super::shed_reason(item.reason);
    if item.digs > 0 {
        format!("{reason} ({})", count(item.digs, "dig", "digs"))
    } else {
        reason.to_owned()
    }
}

/// Parts as last measured.
pub(super) fn wear(report: &SeasonReport, system: In) -> Markup {
    html! {
        @if !report.wear.is_empty() {
            section {
                h2 { "Wear" }
                div.wide { table {
                    thead { tr {
                        th scope="col" { "Planter" }
                        th scope="col" { "Part" }
                        th.number scope="col" { "Measured" }
                        th.number scope="col" { "Limit" }
                        th scope="col" { "Wears" }
                        th scope="col" { "Lasts for" }
                    } }
                    tbody { @for part in report.wear.iter().take(super::MOST_ROWS) {
                        tr {
                            td { (part.planter.name) }
                            th scope="row" { (part_words(part)) }
                            td.number { (system.depth(part.measured)) }
                            td.number { (part.limit.map_or_else(|| "–".to_owned(), |it| system.depth(it))) }
                            td { (part.wear_per_area.map_or_else(|| "measure again".to_owned(), |it| system.wear(it))) }
                            td { (lasts(part, system)) }
                        }
                    } }
                } }
                (super::and_more(report.wear.len()))
                p.note { "How fast a part wears is known from two measurements with land between them. The machine's manual says the limit that counts." }
            }
        }
    }
}

fn part_words(part: &WornPart) -> String {
    match rows(&part.rows) {
        rows if rows.is_empty() => part.words.clone(),
        rows => format!("{}, {rows}", without_rows(&part.words)),
    }
}

fn lasts(part: &WornPart, system: In) -> String {
    if part.replace {
        return "REPLACE".to_owned();
    }
    match (part.area_left, part.at_limit_on) {
        (Some(area), Some(day)) => format!("{}, to about {}", system.area(area), date(day)),
        (Some(area), None) => system.area(area),
        (None, _) => "not known".to_owned(),
    }
}
