//! The answer in one paragraph: what went well, and what to mend.

use domain::season::report::{CountedShare, ReportOf, SeasonReport};
use maud::{Markup, html};

use crate::reports::words::{count, of, percent, rows, without_rows};

/// Entries of the shed list that are named here.
const NAMED: usize = 3;

pub(super) fn answer(report: &SeasonReport) -> Markup {
    html! {
        section.answer {
            p.lead { (sentences(report).join(" ")) }
        }
    }
}

fn sentences(report: &SeasonReport) -> Vec<String> {
    let mut said = Vec::new();
    let so_far = &report.about.so_far;
    if so_far.days < so_far.of {
        said.push(format!("The season is not over: {}.", so_far.words));
    }
    said.push(followed(report));
    said.push(dug(report));
    said.extend(most_frequent(report));
    said.push(mend(report));
    said
}

/// How far advice reached the field.
fn followed(report: &SeasonReport) -> String {
    let advice = &report.recommendations;
    if advice.issued == 0 {
        return "No settings sheet was issued in this season.".to_owned();
    }
    let part = |share: Option<CountedShare>| share.map_or(0, |it| it.count);
    format!(
        "{} went out; {} were seen, {} used, and behind {} somebody dug.",
        count(advice.issued, "settings sheet", "settings sheets"),
        part(advice.seen),
        part(advice.applied),
        part(advice.dug)
    )
}

/// What digs found, first and last.
fn dug(report: &SeasonReport) -> String {
    let shares = report.in_window.all;
    let (Some(first), Some(last)) = (shares.first_pass, shares.after_adjustment) else {
        return "No dig tells yet whether depth and load were right, so nothing can be said of either."
            .to_owned();
    };
    let way = if last.share > first.share + 0.005 {
        "up from"
    } else if last.share < first.share - 0.005 {
        "down from"
    } else {
        "the same as"
    };
    let sure = if last.of < 5 {
        "So few fields say little about the next.".to_owned()
    } else {
        format!(
            "(Of fields like these it is between {} and {}, 95 % interval.)",
            percent(last.low),
            percent(last.high)
        )
    };
    format!(
        "At the last dig, load and depth were in the window in {} of {} fields ({}), {way} {} at the first. {sure}",
        last.count,
        last.of,
        percent(last.share),
        of(first)
    )
}

/// The cause that changes dealt with most.
fn most_frequent(report: &SeasonReport) -> Option<String> {
    let top = report.adjustments.causes.iter().find(|it| it.cause.is_some())?;
    let many = count(top.proposed, "time", "times");
    Some(format!("What digs pointed to most: {} ({many}).", super::cause(top.cause)))
}

/// What to mend.
fn mend(report: &SeasonReport) -> String {
    let list = &report.shed_list;
    if list.is_empty() {
        return "Nothing is on the list for the shed; that holds only for what was looked at."
            .to_owned();
    }
    if !matches!(report.about.of, ReportOf::Grower | ReportOf::Planter) {
        let many = count(u32::try_from(list.len()).unwrap_or(u32::MAX), "entry", "entries");
        return format!("The list for the shed has {many}.");
    }
    let named: Vec<String> = list
        .iter()
        .take(NAMED)
        .map(|it| match rows(&it.rows) {
            rows if rows.is_empty() => it.words.clone(),
            rows => format!("{} ({rows})", without_rows(&it.words)),
        })
        .collect();
    let more = match list.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!("; and {more} more below"),
    };
    format!("To mend in the shed: {}{more}.", named.join("; "))
}
