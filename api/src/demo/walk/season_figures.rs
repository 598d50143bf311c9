//! What the season came to, in figures, for the grower and for the practice.

use super::cast::Cast;
use super::report::Report;
use crate::demo::client::{Body, Client};
use crate::demo::error::Result;

/// Fields of the walk: the first, and those that followed.
const FIELDS: f64 = 4.0;

/// Reads the report of the season, and holds its figures against each other.
pub(super) async fn counted(cast: &Cast, report: &mut Report<'_>) -> Result<()> {
    report.step("What the season came to: the report in figures")?;
    let season = seasons(cast, report).await?;
    let path = format!("/v1/seasons/{season:.0}/report");
    let own = cast.grower.get(&path).await?.expect(200)?;
    said(&own, report)?;
    adds_up(&own, report)?;
    let whole = cast.advisor.get(&path).await?.expect(200)?;
    let digs = (own.number("/about/digs")?, whole.number("/about/digs")?);
    report.holds(
        same(digs.0, digs.1),
        "nobody else dug: the practice has as many digs as the grower",
        &format!("{} and {}", digs.0, digs.1),
    )?;
    report.holds(
        whole.text("/about/of")? == "practice" && own.text("/about/of")? == "grower",
        "an advisor gets the report of the practice, a grower his own",
        whole.text("/about/of")?,
    )?;
    others_see_nothing(cast, &cast.neighbour, &path, report).await
}

/// The one season there is.
async fn seasons(cast: &Cast, report: &mut Report<'_>) -> Result<f64> {
    let seasons = cast.grower.get("/v1/seasons").await?.expect(200)?;
    report.quietly(
        seasons.list("/items").len() == 1,
        "one season in which something was done",
        &seasons.list("/items").len().to_string(),
    )?;
    seasons.number("/items/0/season")
}

fn said(own: &Body, report: &mut Report<'_>) -> Result<()> {
    report.item("season", own.text("/about/so_far/words")?)?;
    let first = share(own, "first_pass");
    let after = share(own, "after_adjustment");
    report.item("in window", &format!("{first} at the first dig, {after} at the last"))?;
    for week in own.list("/weeks") {
        let digs = week.number("/digs").unwrap_or_default();
        report.item(week.word("/starts"), &format!("{digs:.0} digs"))?;
    }
    for item in own.list("/shed_list").iter().take(3) {
        report.item("for the shed", item.word("/words"))?;
    }
    Ok(())
}

/// As in `3 of 4 fields (30 to 95 %)`.
fn share(own: &Body, name: &str) -> String {
    let at = |member: &str| own.number(&format!("/in_window/all/{name}/{member}"));
    let figures = (at("count"), at("of"), at("low"), at("high"));
    let (Ok(count), Ok(of), Ok(low), Ok(high)) = figures else { return "no field".to_owned() };
    format!("{count:.0} of {of:.0} fields ({:.0} to {:.0} %)", low * 100.0, high * 100.0)
}

fn adds_up(own: &Body, report: &mut Report<'_>) -> Result<()> {
    let fields = own.number("/about/fields")?;
    report.holds(fields >= FIELDS, "every field that was advised is in it", &fields.to_string())?;
    let lines = own.list("/fields");
    let of_lines: f64 = lines.iter().filter_map(|line| line.number("/digs").ok()).sum();
    let of_weeks: f64 =
        own.list("/weeks").iter().filter_map(|week| week.number("/digs").ok()).sum();
    let digs = own.number("/about/digs")?;
    report.holds(
        same(digs, of_lines) && same(digs, of_weeks) && digs > 0.0,
        "the digs of the fields, of the weeks and of the season are as many",
        &format!("{digs}, {of_lines} and {of_weeks}"),
    )?;
    let (issued, dug) =
        (own.number("/recommendations/issued")?, own.number("/recommendations/dug/count")?);
    report.holds(
        dug <= issued && own.number("/recommendations/revisions")? >= issued,
        "no more recommendations were dug behind than issued, and each has a revision",
        &format!("{dug} of {issued}"),
    )?;
    let at = |name: &str| own.number(&format!("/in_window/all/{name}/share"));
    let (first, last) = (at("first_pass")?, at("after_adjustment")?);
    report.holds(
        last >= first,
        "after adjustment no fewer fields are in the window than at the first pass",
        &format!("{first} and {last}"),
    )
}

async fn others_see_nothing(
    cast: &Cast,
    neighbour: &Client,
    path: &str,
    report: &mut Report<'_>,
) -> Result<()> {
    let theirs = neighbour.get(path).await?.expect(200)?;
    let asked = format!("{path}?grower_id={}", cast.grower_id);
    let refused = neighbour.get(&asked).await?;
    let nothing = same(theirs.number("/about/fields")?, 0.0) && refused.status == 404;
    report.holds(
        nothing,
        "the neighbour's report holds nothing of it, and asking for it by name is no way in (404)",
        &refused.status.to_string(),
    )
}

/// Counts that are equal.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.5
}
