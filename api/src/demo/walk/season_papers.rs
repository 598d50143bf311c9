//! The season on paper and in files: every form is fetched, and what it says is what the report says.

use super::cast::{Cast, NEIGHBOUR};
use super::report::Report;
use crate::demo::error::Result;

/// A form of the season, and what every file of its kind begins with.
const FORMS: [(&str, &str, &str); 4] = [
    ("report/pdf?paper=letter", "%PDF-", "a PDF"),
    ("report/pdf?paper=a4", "%PDF-", "a PDF on A4"),
    ("workbook", "PK", "a workbook"),
    ("data-package", "PK", "a data package"),
];

/// Fetches the report as page, PDF, workbook and data package.
pub(super) async fn fetched(cast: &Cast, report: &mut Report<'_>) -> Result<()> {
    report.step("The season on paper and in files")?;
    let seasons = cast.advisor.get("/v1/seasons").await?.expect(200)?;
    let season = seasons.number("/items/0/season")?;
    let path = format!("/v1/seasons/{season}");
    let told = cast.advisor.get(&format!("{path}/report")).await?.expect(200)?;
    let page = cast.advisor.get(&format!("{path}/report/page")).await?;
    report.quietly(page.status == 200, "the advisor fetches the page", &page.status.to_string())?;
    let (issued, digs) = (told.number("/recommendations/issued")?, told.number("/about/digs")?);
    for (what, words) in [
        ("how many sheets went out", format!("{issued} settings sheets went out")),
        ("how many digs there were", format!("{digs} digs")),
        (
            "how many fields were in the window at the last dig",
            format!(
                "{} of {}",
                told.number("/in_window/all/after_adjustment/count")?,
                told.number("/in_window/all/after_adjustment/of")?
            ),
        ),
    ] {
        report.holds(
            page.text.contains(&words),
            &format!("the page says {what}: {words}"),
            "not on it",
        )?;
    }
    let charts = page.text.matches("<svg").count();
    report.holds(charts >= 4, &format!("it draws {charts} charts"), "fewer than four")?;
    for (form, begins, what) in FORMS {
        let reply = cast.advisor.get(&format!("{path}/{form}")).await?;
        let good = reply.status == 200 && reply.text.starts_with(begins);
        report.holds(
            good,
            &format!("{what} comes"),
            &format!("{} {:.20}", reply.status, reply.text),
        )?;
    }
    let own = cast.grower.get(&format!("{path}/report/page")).await?;
    let neighbour = NEIGHBOUR.name;
    let alone = own.status == 200 && !own.text.contains(neighbour);
    report.holds(
        alone,
        "the grower reads his own page, without the name of a neighbour",
        "a neighbour is named",
    )?;
    let asked = cast.advisor.get(&format!("{path}/programme-export")).await?;
    report.holds(
        asked.status == 403,
        "the export without names is the lead's to ask for: the advisor gets 403",
        &asked.status.to_string(),
    )
}
