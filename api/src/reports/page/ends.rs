//! What can't be concluded, what can hurt somebody, and what the figures are.

use domain::season::report::SeasonReport;
use domain::settings::Caution;
use maud::{Markup, html};

use super::window::rests_on;

/// With fewer fields dug the report says so.
const FEW_FIELDS: u32 = 10;

pub(super) fn limits(report: &SeasonReport) -> Markup {
    html! {
        section {
            h2 { "What this report can't tell" }
            ul { @for line in lines(report) { li { (line) } } }
            p.note {
                "Shares are of fields behind one planter; their intervals are Wilson's, 95 %. A recommendation \
                 counts once, whatever its revisions; a dig that was sent twice counts once. Days are those of "
                (report.about.time_zone) "."
            }
        }
    }
}

fn lines(report: &SeasonReport) -> Vec<String> {
    let mut lines = Vec::new();
    let (about, shares) = (&report.about, report.in_window.all);
    if about.so_far.days < about.so_far.of {
        lines.push(format!(
            "It is half a story: {}. What comes may change every share.",
            about.so_far.words
        ));
    }
    if shares.fields_dug < FEW_FIELDS {
        lines.push(format!(
            "It rests on {}. That is few: take shares as counts of these fields, not as a forecast.",
            rests_on(report)
        ));
    }
    let undug = about.fields.saturating_sub(shares.fields_dug);
    if undug > 0 {
        lines.push(format!(
            "In {undug} of {} fields nobody dug; they may be better or worse.",
            about.fields
        ));
    }
    lines.push(
        "Fields that did badly at the first dig are dug again more often, and what was extreme once tends to \
         be less so the next time. Part of every gain from first to last dig is that."
            .to_owned(),
    );
    lines.push(
        "There is no field here without advice to compare with. What advice earned, only a trial can tell."
            .to_owned(),
    );
    match super::crops::last_count(report) {
        None => lines.push("No stand was counted, so nothing is said of what came up.".to_owned()),
        Some(day) => lines.push(format!("Stands are as counted, the last on {day}.")),
    }
    if about.growers_left > 0 {
        lines
            .push(format!("Growers who left since ({}) count without a name.", about.growers_left));
    }
    lines
}

/// What goes with work in the shed.
pub(super) fn cautions(report: &SeasonReport) -> Markup {
    let shed = [
        Caution::BlockAndRelieve,
        Caution::SpringsStoreEnergy,
        Caution::AirUnderPressure,
        Caution::OilUnderPressure,
        Caution::WingsAndMarkers,
        Caution::ResiduesOnParts,
    ];
    html! {
        @if !(report.shed_list.is_empty() && report.wear.is_empty()) {
            section.box {
                h2 { "Before anybody works on a planter" }
                ul.cautions { @for it in shed { li { (it.reason().text) } } }
                p { b { "The machine's manual, the label, local rules and licensed practice come before this report." } }
            }
        }
    }
}
