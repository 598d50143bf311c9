//! The first two sheets: how to read it, and the figures of the season.

use domain::season::report::{CountedShare, SeasonReport};

use super::filled::Value;
use crate::reports::page::{cover, soil, title};
use crate::reports::words::{In, date};

pub(super) const HEADS: &[&str] =
    &["Figure", "Count", "Of", "Share", "Low, 95 %", "High, 95 %", "Unit or note"];

pub(super) fn read_me(report: &SeasonReport, cut: &[&str]) -> Vec<Vec<Value>> {
    let about = &report.about;
    let mut lines = vec![
        title(report),
        format!("{}: {} to {}; {}.", about.practice, date(about.first_day), date(about.last_day), about.so_far.words),
        format!("Figures of {}. Days are those of {}; times are UTC.", date(about.as_of.date_naive()), about.time_zone),
        "Units stand in the heads. Sheets of rows (fields, digs, adjustments, stands) are in SI; summary, trials and wear are in the units of the reader.".to_owned(),
        "Shares are of fields behind one planter, with Wilson's 95 % interval; digs of one field are no units of their own.".to_owned(),
        "A recommendation counts once, whatever its revisions. A dig that was sent twice counts once. Groups of fewer than five growers are not to be compared.".to_owned(),
        "Text is always text: no cell holds a formula.".to_owned(),
    ];
    if !cut.is_empty() {
        lines.push(format!(
            "Not all rows fit: {} hold the first {}. The data package holds all of them.",
            cut.join(", "),
            super::MOST_ROWS
        ));
    }
    lines.into_iter().map(|line| vec![Value::Text(line)]).collect()
}

fn shared(name: &str, share: Option<CountedShare>, note: &str) -> Vec<Value> {
    vec![
        Value::text(name),
        Value::maybe(share, |it| Value::count(it.count)),
        Value::maybe(share, |it| Value::count(it.of)),
        Value::maybe(share, |it| Value::Share(it.share)),
        Value::maybe(share, |it| Value::Share(it.low)),
        Value::maybe(share, |it| Value::Share(it.high)),
        Value::text(note),
    ]
}

fn counted(name: &str, many: u32, note: &str) -> Vec<Value> {
    vec![
        Value::text(name),
        Value::count(many),
        Value::Empty,
        Value::Empty,
        Value::Empty,
        Value::Empty,
        Value::text(note),
    ]
}

pub(super) fn summary(report: &SeasonReport, system: In) -> Vec<Vec<Value>> {
    let (about, advice, all) = (&report.about, &report.recommendations, report.in_window.all);
    let changes = &report.adjustments;
    let mut rows = vec![
        counted("growers", about.growers, ""),
        counted("planters", about.planters, ""),
        counted("fields", about.fields, "behind one planter"),
        counted("digs", about.digs, ""),
        counted("recommendations issued", advice.issued, ""),
        counted("revisions issued", advice.revisions, ""),
        shared("seen", advice.seen, "of recommendations"),
        shared("applied", advice.applied, "of recommendations: planted or dug"),
        shared("dug", advice.dug, "of recommendations"),
        shared("in the window at the first dig", all.first_pass, "of fields"),
        shared("in the window at the last dig", all.after_adjustment, "of fields"),
        shared("in the window at the last dig, where dug again", all.dug_again, "of fields"),
        counted("changes proposed", changes.proposed, ""),
        counted("changes accepted", changes.accepted, ""),
        counted("changes declined", changes.declined, ""),
        counted("plantings reported", report.money_and_time.plantings, ""),
        counted("plantings with hours", report.money_and_time.plantings_with_hours, ""),
    ];
    rows.push(vec![
        Value::text("land planted"),
        Value::Empty,
        Value::Empty,
        Value::Empty,
        Value::Empty,
        Value::Empty,
        Value::Text(system.area(report.money_and_time.planted)),
    ]);
    let few = |few: bool| if few { "too few growers to compare" } else { "of fields" };
    for group in &report.in_window.by_soil {
        let name = format!("soil {}, last dig", soil(group.soil));
        rows.push(shared(&name, group.shares.after_adjustment, few(group.shares.few_growers)));
    }
    for group in &report.in_window.by_cover {
        let name = format!("{}, last dig", cover(group.cover));
        rows.push(shared(&name, group.shares.after_adjustment, few(group.shares.few_growers)));
    }
    rows
}
