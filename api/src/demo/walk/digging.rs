//! Off the seat and dig, judge, change one thing, dig again.

use domain::conditions::Moisture;
use domain::provenance::Coefficients;
use serde_json::{Value, json};

use super::advice;
use super::cast::Cast;
use super::known::spaced;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::scenario::{at, day};
use crate::demo::season::in_use;
use crate::demo::truth::{self, Dig, Ground, Iron};
use crate::demo::wire;

/// Most digs before the walk gives up.
const MOST_DIGS: u32 = 5;
/// How much too shallow the hidden ground holds the furrow at first, m: well outside the tolerance
/// of a quarter inch.
const SHALLOW_BY: f64 = 0.0095;
/// Forces are shown to the pound: two of them may differ by this, N.
const SHOWN: f64 = 9.0;
/// How far the means of two digs may lie apart by the hand that held the tape, m.
const HAND: f64 = 0.0015;
/// The hoppers are refilled before each dig.
const FILL: f64 = 0.6;

/// What really is, behind the walk.
pub(super) struct Hidden {
    /// The planter.
    pub iron: Iron,
    /// The field.
    pub ground: Ground,
}

/// What one dig said.
pub(super) struct Judged {
    /// The answer.
    pub body: Body,
    /// Mean depth, m.
    pub mean: f64,
    /// What kind of change is proposed.
    pub kind: String,
}

/// Digs, adjusts and digs again until the service says to go on. Gives the last sheet.
pub(super) async fn until_settled(
    cast: &Cast,
    hidden: &Hidden,
    sheet: Body,
    report: &mut Report<'_>,
) -> Result<Body> {
    cast.clock.set(at(day(cast.field.planted.0, cast.field.planted.1), 10, 15));
    let mut sheet = sheet;
    let mut before: Option<f64> = None;
    for count in 1..=MOST_DIGS {
        let judged = dig(cast, hidden, &sheet, count, report).await?;
        judge(&judged, before, report)?;
        if judged.kind == "keep_as_is" {
            return settled(&judged, sheet, report);
        }
        before = Some(judged.mean);
        sheet = decide(cast, &sheet, &judged, report).await?;
        cast.later(45);
    }
    let found = format!("not after {MOST_DIGS} digs");
    report.holds(false, "the depth settles", &found)?;
    Ok(sheet)
}

impl Hidden {
    /// A ground within the published ranges on which this sheet is too light: the case in which a
    /// dig is needed. The service is told nothing of it.
    pub(super) fn behind(cast: &Cast, sheet: &Body) -> Result<Self> {
        let iron = Iron::of(cast.planter);
        let set = in_use(sheet, cast.planter, FILL)?;
        let wanted = sheet.si("/settings/depth/value")? - SHALLOW_BY;
        // No packed tracks, and soil that grows harder slowly with depth: one cause is enough for a
        // walk, and two changes mend it.
        let mut ground = Ground { in_tracks: 1.0, ..Ground::of(cast.field, Moisture::Moist) };
        ground.soil.exponent = Coefficients::STANDARD.depth_exponent.low;
        let ground = ground.that_holds(&iron, &set, wanted);
        Ok(Self { iron, ground })
    }
}

async fn dig(
    cast: &Cast,
    hidden: &Hidden,
    sheet: &Body,
    count: u32,
    report: &mut Report<'_>,
) -> Result<Judged> {
    report.step(&format!("Stop, walk back, dig: dig {count}, sheet {}", revision(sheet)))?;
    if count == 1 {
        let digging = sheet.list("/cautions");
        let digging = digging.iter().find(|caution| caution.word("/code") == "digging_behind");
        report.item("caution", digging.map_or("", |caution| caution.word("/text")))?;
        report.say("The walk knows how hard this ground is to enter; the service does not.")?;
    }
    let seen = looked(cast, hidden, sheet, &format!("walk dig {count}"))?;
    report.say(&told(&seen))?;
    sent(cast, sheet, &seen).await
}

/// Digs without a word, sends it, and gives what the service made of it.
pub(super) async fn dug(cast: &Cast, hidden: &Hidden, sheet: &Body, words: &str) -> Result<Judged> {
    let seen = looked(cast, hidden, sheet, words)?;
    sent(cast, sheet, &seen).await
}

fn looked(cast: &Cast, hidden: &Hidden, sheet: &Body, words: &str) -> Result<Dig> {
    let set = in_use(sheet, cast.planter, FILL)?;
    Ok(truth::dig(&hidden.iron, &hidden.ground, &set, words))
}

async fn sent(cast: &Cast, sheet: &Body, seen: &Dig) -> Result<Judged> {
    let path = format!("/v1/recommendations/{}/dig-checks", sheet.text("/id")?);
    let set = in_use(sheet, cast.planter, FILL)?;
    let body = wire::dig_check(cast.now(), sheet, &set, seen);
    let body = cast.grower.post(&path, &body).await?.expect(201)?;
    let mean = body.si("/depth/planter/mean")?;
    let kind = body.text("/proposal/change/kind")?.to_owned();
    Ok(Judged { body, mean, kind })
}

/// What the grower wrote down, in a sentence.
fn told(dug: &Dig) -> String {
    let rows: Vec<String> = dug
        .rows
        .iter()
        .map(|row| {
            let mean = domain::stats::mean(&row.seed_depths).unwrap_or(0.0);
            format!("{} ({} seeds, {mean:.2} in)", row.row, row.seed_depths.len())
        })
        .collect();
    let feel = dug.rows.iter().map(|row| json!(row.gauge_wheels));
    let mut feels: Vec<String> = feel.filter_map(|f: Value| f.as_str().map(spaced)).collect();
    feels.sort();
    feels.dedup();
    format!("Rows {}; by hand the gauge wheels {}.", rows.join(", "), feels.join(", on others "))
}

fn judge(judged: &Judged, before: Option<f64>, report: &mut Report<'_>) -> Result<()> {
    let body = &judged.body;
    let depth = |name: &str| body.shown(&format!("/depth/{name}"));
    let (low, high) = (depth("planter/low")?, depth("planter/high")?);
    report.item(
        "depth",
        &format!(
            "{} on the mean of {} rows, 95 % sure between {low} and {high}; wanted {} within {}: {}",
            depth("planter/mean")?,
            body.number("/depth/planter/rows")?,
            depth("target")?,
            depth("tolerance")?,
            body.text("/depth/settled/words")?,
        ),
    )?;
    findings(body, report)?;
    report.item("the change", body.text("/proposal/words")?)?;
    for next in body.list("/proposal/next_dig").iter().take(1) {
        report.item("", &format!("then see: {}", next.json.as_str().unwrap_or_default()))?;
    }
    report.item("learned", body.text("/learned/words")?)?;
    let (low, high) = (body.si("/depth/planter/low")?, body.si("/depth/planter/high")?);
    let between = low <= judged.mean && judged.mean <= high;
    report.quietly(between, "the mean lies in its interval", &depth("planter/mean")?)?;
    match before {
        None => first(judged, report),
        Some(before) => {
            let what = "seed does not lie shallower than at the dig before";
            report.quietly(judged.mean > before - HAND, what, &depth("planter/mean")?)
        }
    }
}

fn findings(body: &Body, report: &mut Report<'_>) -> Result<()> {
    let findings = body.list("/findings");
    if findings.is_empty() {
        return report.item("finding", "nothing is wrong");
    }
    for (place, finding) in findings.iter().enumerate() {
        let list = |name: &str| {
            let all = finding.list(&format!("/{name}"));
            let words = all.iter().filter_map(|one| one.json.as_str().map(str::to_owned));
            words.collect::<Vec<_>>().join(", ")
        };
        let against = list("evidence_against");
        let against = if against.is_empty() { against } else { format!("; against it: {against}") };
        report.item(
            if place == 0 { "finding" } else { "" },
            &format!(
                "{} ({}): {}{against}",
                spaced(finding.text("/cause")?),
                finding.text("/strength")?,
                list("evidence_for"),
            ),
        )?;
    }
    Ok(())
}

/// The hidden ground holds the furrow too shallow: the dig must say so, and say why.
fn first(judged: &Judged, report: &mut Report<'_>) -> Result<()> {
    let body = &judged.body;
    let target = body.si("/depth/target")?;
    let tolerance = body.si("/depth/tolerance")?;
    let mean = body.shown("/depth/planter/mean")?;
    let shallow = judged.mean < target - tolerance;
    report.holds(shallow, "seed lies shallower than the tolerance allows", &mean)?;
    let causes = body.list("/findings");
    let cause = causes.first().map_or("nothing", |first| first.word("/cause"));
    report.holds(
        cause == "too_little_force",
        "free wheels and shallow seed: too little force",
        cause,
    )?;
    report.holds(
        judged.kind == "down_force",
        "one change is asked for: the down force",
        &judged.kind,
    )
}

fn settled(judged: &Judged, sheet: Body, report: &mut Report<'_>) -> Result<Body> {
    let body = &judged.body;
    let off = (judged.mean - body.si("/depth/target")?).abs();
    let inside = off <= body.si("/depth/tolerance")?;
    let mean = body.shown("/depth/planter/mean")?;
    report.holds(inside, "the seed lies within tolerance, and nothing is to be changed", &mean)?;
    Ok(sheet)
}

/// The advisor accepts the one change; the next sheet has it and nothing else.
async fn decide(
    cast: &Cast,
    sheet: &Body,
    judged: &Judged,
    report: &mut Report<'_>,
) -> Result<Body> {
    cast.later(20);
    report.step("The advisor accepts the change")?;
    let next = accepted(cast, &judged.body).await?;
    report.say(&format!(
        "Sheet {}: {} on each row, set {}.",
        revision(&next),
        next.shown("/settings/down_force/per_row")?,
        next.shown("/settings/down_force/set_on_planter/pressure")?,
    ))?;
    only_one_change(sheet, &judged.body, &next, report)?;
    let seen = advice::issued(cast, &next, report).await?;
    let old = format!("/v1/recommendations/{}", sheet.text("/id")?);
    let old = cast.grower.get(&old).await?.expect(200)?;
    let status = old.text("/status")?;
    report.quietly(status == "superseded", "the sheet before no longer counts", status)?;
    Ok(seen)
}

/// The advisor accepts what a dig proposed; the next sheet.
pub(super) async fn accepted(cast: &Cast, judged: &Body) -> Result<Body> {
    let path = format!("/v1/adjustments/{}", judged.text("/adjustment_id")?);
    let read = cast.advisor.get(&path).await?.expect(200)?;
    let accepted = cast.advisor.step(&format!("{path}/accept"), read.tag()?, None).await?;
    let accepted = accepted.expect(200)?;
    let next = accepted.text("/next_recommendation_id")?;
    cast.advisor.get(&format!("/v1/recommendations/{next}")).await?.expect(200)
}

fn only_one_change(
    before: &Body,
    judged: &Body,
    after: &Body,
    report: &mut Report<'_>,
) -> Result<()> {
    let force = "/settings/down_force/per_row";
    let mut same = vec!["/settings/speed/value", "/settings/seeding/rate"];
    match judged.text("/proposal/change/kind")? {
        "down_force" => {
            let (old, new) = (before.si(force)?, after.si(force)?);
            let wanted = judged.si("/proposal/change/to")?;
            let most = Coefficients::STANDARD.largest_learned_step.value;
            let asked = (new - wanted).abs() < SHOWN && (new - old).abs() > SHOWN;
            let right = asked && (new - old).abs() <= most + SHOWN;
            let what = "the force that the dig asked for, and no more than the largest single step";
            report.holds(right, what, &after.shown(force)?)?;
            same.push("/settings/depth/value");
        }
        "depth" => same.push(force),
        _ => same.extend([force, "/settings/depth/value"]),
    }
    let kept = same.iter().all(|at| before.json.pointer(at) == after.json.pointer(at));
    report.holds(kept, "everything else stays as it was", "something else changed")
}

fn revision(sheet: &Body) -> String {
    sheet.number("/revision").map_or_else(|_none| "?".to_owned(), |number| number.to_string())
}
