//! What is left of the day: the timeline of the field and the page in the cab.

use chrono::{DateTime, Utc};

use super::cast::Cast;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;

/// The entries of the timeline that are told here.
const TOLD: [&str; 5] = [
    "conditions_reported",
    "recommendation_issued",
    "dig_checked",
    "adjustment_accepted",
    "adjustment_declined",
];

/// Reads the timeline of the field.
pub(super) async fn timeline(cast: &Cast, field: &str, report: &mut Report<'_>) -> Result<()> {
    report.step("Look back over the field")?;
    let path = format!("/v1/fields/{field}/timeline");
    let read = cast.advisor.get(&path).await?.expect(200)?;
    let entries = read.list("/items");
    for entry in entries.iter().filter(|entry| TOLD.contains(&entry.word("/kind"))) {
        let when: DateTime<Utc> = entry.text("/at")?.parse().unwrap_or_default();
        let words = format!("{}: {}", entry.text("/title")?, entry.text("/summary")?);
        report.entry(&when.format("%-d %b %H:%M").to_string(), &words)?;
    }
    let times: Vec<&str> = entries.iter().map(|entry| entry.word("/at")).collect();
    let ordered = times.windows(2).all(|pair| matches!(pair, [a, b] if a <= b));
    let count = times.len();
    let what = format!("all {count} entries are in the order in which it happened");
    report.holds(ordered && count >= 8, &what, &format!("{count} entries"))
}

/// Fetches the page in the cab and looks for what must stand on it.
pub(super) async fn sheet(cast: &Cast, sheet: &Body, report: &mut Report<'_>) -> Result<()> {
    report.step("The page in the cab")?;
    let path = format!("/v1/recommendations/{}/sheet", sheet.text("/id")?);
    let reply = cast.grower.get(&path).await?;
    report.quietly(reply.status == 200, "the grower fetches it", &reply.status.to_string())?;
    let page = &reply.text;
    report.say(&format!(
        "The grower fetches it: one HTML page of {} characters.",
        page.chars().count()
    ))?;
    for (what, pointer) in [
        ("the pressure", "/settings/down_force/set_on_planter/pressure"),
        ("the depth", "/settings/depth/value"),
        ("the speed", "/settings/speed/value"),
    ] {
        let shown = sheet.shown(pointer)?;
        let there = page.contains(&shown);
        report.holds(there, &format!("{what} stands on it: {shown}"), "not on the page")?;
    }
    let cautions = sheet.list("/cautions");
    let there =
        cautions.iter().filter(|caution| page.contains(&escaped(caution.word("/text")))).count();
    let what = format!("all {} cautions stand on it, in words", cautions.len());
    report.holds(there == cautions.len() && there > 0, &what, &there.to_string())
}

/// As HTML writes it.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
