//! What must be known before a sheet: the planter, the field, its condition.

use domain::quantity::{Area, Measured, unit};
use serde_json::json;

use super::cast::Cast;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::scenario::{at, before, day, place};
use crate::demo::wire;

/// Describes the planter and measures its bags; the id of the planter.
pub(super) async fn planter(cast: &Cast, report: &mut Report<'_>) -> Result<String> {
    report.step("Know the planter")?;
    let plan = cast.planter;
    let makeup = wire::makeup(plan);
    let body = json!({"grower_id": cast.grower_id, "name": plan.name, "makeup": makeup});
    let made = cast.advisor.post("/v1/planters", &body).await?.expect(201)?;
    let id = made.text("/id")?.to_owned();
    let unit = |pointer: &str| made.shown(&format!("/makeup/unit/{pointer}"));
    report.say(&format!(
        "{} rows at {}. A bare row unit weighs {}, what hangs on it {}; the hopper holds {}. \
         Opener discs {} new, {} as measured. The coulter hangs on the unit, {} above the opener.",
        made.number("/makeup/rows")?,
        made.shown("/makeup/row_width")?,
        unit("weight")?,
        unit("attachments")?,
        unit("hopper/volume")?,
        unit("opener/new_diameter")?,
        unit("opener/measured")?,
        unit("coulter/above_opener")?,
    ))?;
    let kept = made.json.pointer("/makeup") == Some(&makeup);
    report.holds(
        kept,
        "every figure is kept as it was entered, with its unit",
        "another makeup",
    )?;
    calibration(cast, &id, report).await?;
    Ok(id)
}

async fn calibration(cast: &Cast, planter: &str, report: &mut Report<'_>) -> Result<()> {
    let today = cast.now().date_naive();
    let body = wire::calibration(cast.planter, today).unwrap_or_default();
    let path = format!("/v1/planters/{planter}/calibrations");
    let made = cast.advisor.post(&path, &body).await?.expect(201)?;
    let mut readings = Vec::new();
    for point in made.list("/points") {
        readings.push(format!("{} gives {}", point.shown("/pressure")?, point.shown("/force")?));
    }
    let points = readings.join(", ");
    report.say(&format!("Air bags, measured with a scale under the gauge wheels: {points}."))?;
    let first = made.list("/points").first().map(|point| point.si("/force")).transpose()?;
    let least = made.si("/least_force")?;
    let through = first.is_some_and(|force| (force - least).abs() < 1.0);
    report.holds(
        through,
        "the line between pressure and force goes through what was measured",
        &made.shown("/least_force")?,
    )
}

/// Adds farm and field; the id of the field.
pub(super) async fn field(cast: &Cast, report: &mut Report<'_>) -> Result<String> {
    report.step("Know the field")?;
    let plan = cast.field;
    let body = json!({"grower_id": cast.grower_id, "name": "Home place"});
    let farm = cast.advisor.post("/v1/farms", &body).await?.expect(201)?;
    let body = json!({
        "farm_id": farm.text("/id")?,
        "name": plan.name,
        "texture_class": plan.texture,
        "boundary": place::rectangle(0, 0, plan.acres),
    });
    let made = cast.advisor.post("/v1/fields", &body).await?.expect(201)?;
    let area = Area::from_si(made.si("/area")?);
    let acres = unit("[acr_us]").map_or(0.0, |acre| acre.read(area));
    report.say(&format!(
        "{}, {}, with its boundary: {acres:.1} ac by the boundary.",
        plan.name,
        spaced(made.text("/texture_class")?),
    ))?;
    let close = (acres - plan.acres).abs() < 0.02 * plan.acres;
    let what = format!("that is within 2 % of the {} ac that the grower knows", plan.acres);
    report.holds(close, &what, &format!("{acres:.1} ac"))?;
    Ok(made.text("/id")?.to_owned())
}

/// Reports what was seen and felt; the id of the report.
pub(super) async fn conditions(
    cast: &Cast,
    field: &str,
    report: &mut Report<'_>,
) -> Result<String> {
    let planting = day(cast.field.planted.0, cast.field.planted.1);
    let today = before(planting, 1);
    cast.clock.set(at(today, 9, 0));
    report.step(&format!("Walk the field, {}", today.format("%-d %B")))?;
    let body = wire::conditions(cast.field, today, planting);
    let path = format!("/v1/fields/{field}/conditions");
    let made = cast.advisor.post(&path, &body).await?.expect(201)?;
    let seen = seen(&made)?;
    report.say(&seen)?;
    let newest = cast.advisor.get(&format!("{path}/newest")).await?.expect(200)?;
    let id = made.text("/id")?.to_owned();
    report.holds(newest.word("/id") == id, "this report is now the newest", newest.word("/id"))?;
    Ok(id)
}

fn seen(made: &Body) -> Result<String> {
    let at = |pointer: &str| format!("/observations/{pointer}");
    let word = |pointer: &str| spaced(made.word(&at(pointer)));
    Ok(format!(
        "Soil at seed depth is {}, the ball {}. {} at seed depth, {} of rain in sight. {}, {} \
         tall, {}, over {} residue; the residue is {}.",
        word("moisture"),
        word("ball"),
        made.shown(&at("soil_temperature"))?,
        made.shown(&at("rain"))?,
        capital(&word("cover/species")),
        made.shown(&at("cover/height"))?,
        word("cover/state"),
        word("previous_crop"),
        word("residue_feel"),
    ))
}

/// A word of the wire as people write it.
pub(super) fn spaced(word: &str) -> String {
    word.replace('_', " ")
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
