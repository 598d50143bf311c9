//! Four figures that sum the season up.

use domain::quantity::Measured;
use domain::season::report::{CountedShare, SeasonReport};
use maud::{Markup, html};

use crate::reports::words::{In, count, limits, percent, whole};

pub(super) fn cards(report: &SeasonReport, system: In) -> Markup {
    let advice = &report.recommendations;
    let shares = report.in_window.all;
    html! {
        div.cards {
            div {
                p.figure { (whole(advice.issued.into())) }
                p { "sheets issued, in " (count(advice.revisions, "revision", "revisions")) }
            }
            div {
                p.figure { (share(advice.seen)) }
                p { "of sheets seen; used: " (share(advice.applied)) "; dug: " (share(advice.dug)) }
            }
            div {
                p.figure { (share(shares.first_pass)) " → " (share(shares.after_adjustment)) }
                p { "of fields in the window, first and last dig" }
                @if let Some(last) = shares.after_adjustment { p.note { "last: " (limits(last)) } }
            }
            div { (planted(report, system)) }
        }
    }
}

fn share(it: Option<CountedShare>) -> String {
    it.map_or_else(|| "–".to_owned(), |it| percent(it.share))
}

fn planted(report: &SeasonReport, system: In) -> Markup {
    let known = &report.money_and_time;
    html! {
        @if known.planted.si() > 0.0 {
            p.figure { (system.area(known.planted)) }
            p { "planted, in " (count(known.plantings, "planting", "plantings")) " reported" }
        } @else {
            p.figure { (whole(report.about.digs.into())) }
            p { "digs; no planting was reported" }
        }
    }
}
