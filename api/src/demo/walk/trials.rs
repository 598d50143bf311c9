//! Other closing wheels on two rows, from the map to the verdict.

use domain::planter::ClosingPair;
use serde_json::{Value, json};

use super::cast::Cast;
use super::digging::Hidden;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::season::trial_rows;
use crate::demo::truth::{self, InUse};

/// Blocks of the trial.
const BLOCKS: u32 = 6;
const SMOOTH: &str = "two smooth wheels";
const SPIKED: &str = "one spiked, one rubber wheel";

/// Lays a trial out, looks at its plots and tells what it says.
pub(super) async fn tried(
    cast: &Cast,
    (field, planter): (&str, &str),
    hidden: &Hidden,
    report: &mut Report<'_>,
) -> Result<()> {
    report.step("Try before you buy: other closing wheels on two rows")?;
    let trial = laid_out(cast, (field, planter), report).await?;
    let path = format!("/v1/trials/{}", trial.text("/id")?);
    map(cast, &trial, &path, report).await?;
    let start = format!("{path}/start");
    cast.advisor.step(&start, trial.tag()?, None).await?.expect(200)?;
    let more = looked(cast, hidden, &trial, &path).await?;
    twice(cast, &path, report).await?;
    verdict(cast, &path, more, report).await
}

async fn laid_out(
    cast: &Cast,
    (field, planter): (&str, &str),
    report: &mut Report<'_>,
) -> Result<Body> {
    let body = json!({
        "field_id": field,
        "planter_id": planter,
        "name": "Smooth against spiked closing wheels",
        "design": {
            "crop": "corn",
            "trying": "closing_wheel",
            "treatments": [{"name": SMOOTH}, {"name": SPIKED, "control": true}],
            "way": {"kind": "planter_rows", "rows_each": 2},
            "blocks": BLOCKS,
            "seed": 7,
            "responses": [{"kind": "furrow_closed", "matters": 5, "spread": 8}],
        },
    });
    let trial = cast.advisor.post("/v1/trials", &body).await?.expect(201)?;
    let again = cast.advisor.post("/v1/trials", &body).await?.expect(201)?;
    let same = again.json.pointer("/layout") == trial.json.pointer("/layout");
    report.holds(same, "the same seed gives the same layout", "another one")?;
    let tyres = trial_rows(&Body::part(&json!({"rows": trial.json.pointer("/layout/tyre_rows")})));
    let last = cast.planter.rows;
    for plot in trial.list("/layout/plots").iter().take(2) {
        let rows = trial_rows(plot);
        let said: Vec<String> = rows.iter().map(ToString::to_string).collect();
        report.item(plot.text("/treatment")?, &format!("rows {}", said.join(" and ")))?;
        let odd = |row: &u16| *row == 1 || *row == last || tyres.contains(row);
        let good = !rows.iter().all(odd);
        report.quietly(good, "not only outer rows and rows behind tyres", &said.join(", "))?;
    }
    report.item("blocks", trial.text("/replications/0/words")?)?;
    Ok(trial)
}

async fn map(cast: &Cast, trial: &Body, path: &str, report: &mut Report<'_>) -> Result<()> {
    let hidden = cast.grower.get(&format!("{path}/map")).await?;
    report.quietly(hidden.status == 404, "a grower sees no draft", &hidden.status.to_string())?;
    let page = cast.advisor.get(&format!("{path}/map")).await?;
    let plots = trial.list("/layout/plots").len();
    let drawn = (1..=plots).all(|plot| page.text.contains(&format!(">{plot}</text>")));
    let whole = page.status == 200 && drawn && page.text.contains("reach under the planter");
    report.holds(whole, "the map to print shows every plot, and what can hurt somebody", &page.text)
}

/// The grower looks at every plot. Gives how much more of the furrow one spiked wheel really closed.
async fn looked(cast: &Cast, hidden: &Hidden, trial: &Body, path: &str) -> Result<f64> {
    let (mut spiked, mut smooth) = (Vec::new(), Vec::new());
    for plot in trial.list("/layout/plots") {
        cast.later(12);
        let number = plot.number("/plot")?;
        let one = plot.text("/treatment")? == SPIKED;
        let pair = if one { ClosingPair::SpikedAndRubber } else { ClosingPair::Rubber };
        let ground = (&hidden.iron, &hidden.ground);
        let words = format!("walk plot {number}");
        let found = truth::plot(ground, &in_use(), pair, &trial_rows(&plot), &words);
        let side = if one { &mut spiked } else { &mut smooth };
        side.extend(found.closed.iter().copied());
        let body = reading(number, &found.closed);
        cast.grower.post(&format!("{path}/plots"), &body).await?.expect(201)?;
    }
    let mean = |all: &[f64]| domain::stats::mean(all).unwrap_or_default();
    Ok(mean(&smooth) - mean(&spiked))
}

fn reading(plot: f64, closed: &[f64]) -> Value {
    json!({"plot": plot, "readings": [
        {"response": "furrow_closed", "values": {"unit": "%", "values": closed}}
    ]})
}

async fn twice(cast: &Cast, path: &str, report: &mut Report<'_>) -> Result<()> {
    let again = cast.grower.post(&format!("{path}/plots"), &reading(1.0, &[1.0])).await?;
    report.holds(
        again.status == 409 && again.text.contains("already"),
        "a plot that is noted twice is refused, with what is there (409)",
        &again.text,
    )
}

async fn verdict(cast: &Cast, path: &str, truth: f64, report: &mut Report<'_>) -> Result<()> {
    let told = cast.grower.get(&format!("{path}/analysis")).await?.expect(200)?;
    let one = "/responses/0";
    report.item("verdict", told.text(&format!("{one}/verdict/headline"))?)?;
    if let Some(first) = told.list(&format!("{one}/verdict/cannot_conclude")).first() {
        report.item("but", first.json.as_str().unwrap_or_default())?;
    }
    let effect = told.number(&format!("{one}/figures/effects/0/difference"))?;
    let same = (effect - truth).abs() < 0.01;
    report.holds(same, "the effect is that of the plots", &format!("{effect} for {truth}"))?;
    let df = told.number(&format!("{one}/figures/rests_on/error_df"))?;
    report.holds(
        (df - f64::from(BLOCKS - 1)).abs() < 0.5,
        "blocks are the replications, not the rows that were looked at",
        &format!("{df} degrees of freedom"),
    )
}

/// The planter as it runs; what closes a furrow does not depend on it.
fn in_use() -> InUse {
    const INCH: f64 = 0.0254;
    InUse {
        force: 700.0,
        lever: 2.0 * INCH,
        speed: 8.0,
        fill: 0.5,
        spacing: 6.0 * INCH,
        closing: ClosingPair::Rubber,
    }
}
