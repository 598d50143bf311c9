//! The sheet: worked out, looked through, issued, seen.

use serde_json::json;

use super::cast::Cast;
use super::known::spaced;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::wire;

/// Has the settings worked out and looks them through.
pub(super) async fn sheet(
    cast: &Cast,
    (field, planter): (&str, &str),
    report: &mut Report<'_>,
) -> Result<Body> {
    cast.later(30);
    report.step("Work out the settings")?;
    let body = json!({
        "field_id": field,
        "planter_id": planter,
        "goals": wire::goals(cast.field.crop, cast.planter.speed),
    });
    let made = cast.advisor.post("/v1/recommendations", &body).await?.expect(201)?;
    report.item("today", &format!("{}{}", made.text("/today/verdict")?, why(&made, "/today")))?;
    down_force(&made, report)?;
    settings(&made, report)?;
    how_sure(&made, report)?;
    Ok(made)
}

fn down_force(made: &Body, report: &mut Report<'_>) -> Result<()> {
    let at = |name: &str| format!("/settings/down_force/{name}");
    let force = made.shown(&at("per_row"))?;
    report.item(
        "down force",
        &format!(
            "{force} on each row: set {} ({})",
            made.shown(&at("set_on_planter/pressure"))?,
            made.text(&at("set_on_planter/from"))?,
        ),
    )?;
    report.item("", &format!(
        "aim of the wheel load {}, at most {} in this soil; {} may be needed at the low end, {} at \
         the high end",
        made.shown(&at("window/aim"))?,
        made.shown(&at("window/ceiling"))?,
        made.shown(&at("need_low"))?,
        made.shown(&at("need_high"))?,
    ))?;
    for state in made.list(&at("as_box_empties")) {
        let note = state.word("/note");
        let note = if note.is_empty() { String::new() } else { format!(" ({note})") };
        report.item(
            "",
            &format!(
                "hopper {}: the wheels carry {}{note}",
                state.text("/hopper")?,
                state.shown("/load")?,
            ),
        )?;
    }
    by_hand(made, report)?;
    let loads = loads(made)?;
    let falling = loads.windows(2).all(|pair| matches!(pair, [more, less] if more > less));
    report.holds(
        falling && loads.len() == 3,
        "the wheels carry less as the hopper empties",
        "other",
    )
}

fn loads(made: &Body) -> Result<Vec<f64>> {
    made.list("/settings/down_force/as_box_empties").iter().map(|at| at.si("/load")).collect()
}

/// The pressure, from the two measured points by hand.
fn by_hand(made: &Body, report: &mut Report<'_>) -> Result<()> {
    use crate::demo::scenario::make_up::Source;
    let Source::Bags([(p0, f0), (p1, f1)]) = super::cast::PLANTER.source else {
        return Ok(());
    };
    let psi = made.number("/settings/down_force/set_on_planter/pressure/value")?;
    let line = f0 + (psi - p0) * (f1 - f0) / (p1 - p0);
    let pounds = made.number("/settings/down_force/per_row/value")?;
    let what = format!("{psi} psi on the measured line is that force (by hand: {line:.0} lbf)");
    report.holds((line - pounds).abs() <= 4.0, &what, &format!("{pounds} lbf"))
}

fn settings(made: &Body, report: &mut Report<'_>) -> Result<()> {
    let at = |name: &str| format!("/settings/{name}");
    let depth = format!(
        "{}{}, safe from {} to {}{}",
        made.shown(&at("depth/value"))?,
        made.number(&at("depth/lever/notch")).map_or(String::new(), |n| format!(", notch {n}")),
        made.shown(&at("depth/safe_low"))?,
        made.shown(&at("depth/safe_high"))?,
        why(made, "/settings/depth"),
    );
    report.item("depth", &depth)?;
    for (name, member, word) in [
        ("coulter", "coulter", "coulter"),
        ("row cleaner", "row_cleaner", "cleaner"),
        ("closing", "closing", "pair"),
    ] {
        let word = spaced(made.text(&at(&format!("{member}/{word}")))?);
        report.item(name, &format!("{word}{}", why(made, &at(member))))?;
    }
    report.item(
        "speed",
        &format!(
            "{}, at most {}{}",
            made.shown(&at("speed/value"))?,
            made.shown(&at("speed/most"))?,
            why(made, &at("speed")),
        ),
    )?;
    report.item(
        "seed",
        &format!(
            "{} seeds per acre, one each {}",
            made.number(&at("seeding/rate/value"))?,
            made.shown(&at("seeding/spacing"))?,
        ),
    )?;
    spacing_by_hand(made, report)?;
    let (low, depth) = (made.si(&at("depth/safe_low"))?, made.si(&at("depth/value"))?);
    let inside = depth >= low && depth <= made.si(&at("depth/safe_high"))?;
    report.holds(inside, "the depth lies in the safe range", &made.shown(&at("depth/value"))?)
}

/// An acre, over the row width and the spacing, is the rate.
fn spacing_by_hand(made: &Body, report: &mut Report<'_>) -> Result<()> {
    let spacing = made.number("/settings/seeding/spacing/value")?;
    let rate = made.number("/settings/seeding/rate/value")?;
    let by_hand = 6_272_640.0 / (super::cast::PLANTER.row_width * spacing);
    let what = format!(
        "an acre of {} in rows takes that many seeds at that spacing (by hand: {by_hand:.0})",
        super::cast::PLANTER.row_width,
    );
    report.holds((by_hand - rate).abs() < 0.005 * rate, &what, &format!("{rate}"))
}

fn how_sure(made: &Body, report: &mut Report<'_>) -> Result<()> {
    let chance = made.number("/settings/down_force/chance_in_window")? * 100.0;
    report.item("how sure", &format!(
        "{chance:.0} % chance that the load is right: {} things were assumed, and the soil has not \
         been dug yet",
        made.list("/assumed").len(),
    ))?;
    if let Some(first) = made.list("/measure_next").first() {
        report.item(
            "",
            &format!(
                "best measured next: {} (narrows the down force by {:.0} %)",
                first.text("/measure")?,
                first.number("/narrows_by")? * 100.0,
            ),
        )?;
    }
    if let Some(first) = made.list("/assumed").first() {
        report.item(
            "",
            &format!("assumed, for one: {}: {}", first.text("/what")?, first.text("/used")?),
        )?;
    }
    let trace = made.list("/trace");
    let sourced = trace.iter().filter(|step| !step.word("/source").is_empty()).count();
    let what = format!("each of the {} steps of the calculation names its source", trace.len());
    report.holds(!trace.is_empty() && sourced == trace.len(), &what, &sourced.to_string())
}

/// The first reason for a setting.
fn why(made: &Body, at: &str) -> String {
    let reasons = made.list(&format!("{at}/because"));
    reasons.first().map_or_else(String::new, |reason| format!(": {}", reason.word("/text")))
}

/// Issues the sheet, and the grower sees it.
pub(super) async fn issue(cast: &Cast, sheet: &Body, report: &mut Report<'_>) -> Result<Body> {
    cast.later(20);
    report.step("Issue the sheet, and see that the grower has seen it")?;
    let path = format!("/v1/recommendations/{}", sheet.text("/id")?);
    let before = cast.grower.get(&path).await?.status;
    report.holds(before == 404, "the grower does not see a draft", &before.to_string())?;
    issued(cast, sheet, report).await
}

/// Issues a sheet and has it acknowledged.
pub(super) async fn issued(cast: &Cast, sheet: &Body, report: &mut Report<'_>) -> Result<Body> {
    let seen = quietly_issued(cast, sheet).await?;
    let status = seen.text("/status")?;
    let what = format!(
        "issued, read by the grower, and acknowledged at {}",
        seen.text("/acknowledged_at")?
    );
    report.holds(status == "acknowledged", &what, status)?;
    Ok(seen)
}

/// The same without a word.
pub(super) async fn quietly_issued(cast: &Cast, sheet: &Body) -> Result<Body> {
    let path = format!("/v1/recommendations/{}", sheet.text("/id")?);
    let now = cast.advisor.get(&path).await?.expect(200)?;
    cast.advisor.step(&format!("{path}/issue"), now.tag()?, None).await?.expect(200)?;
    cast.later(10);
    let read = cast.grower.get(&path).await?.expect(200)?;
    let seen = cast.grower.step(&format!("{path}/acknowledge"), read.tag()?, None).await?;
    seen.expect(200)
}
