//! The same planter goes on: what one field taught is where the next one starts.

use serde_json::json;

use super::advice;
use super::cast::Cast;
use super::digging::{self, Hidden, Judged};
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::scenario::{day, place};
use crate::demo::truth::Ground;
use crate::demo::wire;

/// The fields that follow, and how much harder their soil is to enter than that of the first: soil
/// of one kind differs little from field to field.
const NEXT: [(&str, f64); 3] =
    [("Spring pasture", 1.04), ("Long eighty", 0.95), ("Church corner", 1.07)];
/// Digs on each of them.
const MOST_DIGS: u32 = 3;

/// Plants the fields that follow and tells what was known before each, and after the last.
pub(super) async fn goes_on(
    cast: &Cast,
    planter: &str,
    hidden: &Hidden,
    report: &mut Report<'_>,
) -> Result<()> {
    report.step("The same planter goes on: what one field taught is where the next starts")?;
    report.say("Three more fields of the same soil and cover, nearly as hard to enter.")?;
    let body = json!({"grower_id": cast.grower_id, "name": "East place"});
    let farm = cast.advisor.post("/v1/farms", &body).await?.expect(201)?;
    let mut widths = Vec::new();
    for (name, harder) in NEXT {
        cast.later(60);
        let sheet = sheet(cast, (farm.text("/id")?, name), planter).await?;
        widths.push(first_words(&sheet, name, report)?);
        let ground = harder_by(&hidden.ground, harder);
        let hidden = Hidden { iron: hidden.iron.clone(), ground };
        field(cast, &hidden, sheet, name, report).await?;
    }
    let narrows = matches!(widths.as_slice(), [first, .., last] if last < first);
    let shown: Vec<String> = widths.iter().map(|width| format!("{width:.2}")).collect();
    report.holds(
        narrows,
        "before each field the resistance is known more closely than before the first of them",
        &shown.join(", "),
    )?;
    told(cast, planter, report).await
}

fn harder_by(ground: &Ground, share: f64) -> Ground {
    Ground { opener: ground.opener * share, coulter: ground.coulter * share, ..*ground }
}

/// Field, report and sheet, issued and seen.
async fn sheet(cast: &Cast, (farm, name): (&str, &str), planter: &str) -> Result<Body> {
    let plan = cast.field;
    let body = json!({
        "farm_id": farm, "name": name, "texture_class": plan.texture,
        "boundary": place::rectangle(0, 0, plan.acres),
    });
    let field = cast.advisor.post("/v1/fields", &body).await?.expect(201)?;
    let field = field.text("/id")?;
    let planting = day(plan.planted.0, plan.planted.1);
    let body = wire::conditions(plan, cast.now().date_naive(), planting);
    cast.advisor.post(&format!("/v1/fields/{field}/conditions"), &body).await?.expect(201)?;
    let goals = wire::goals(plan.crop, cast.planter.speed);
    let body = json!({"field_id": field, "planter_id": planter, "goals": goals});
    cast.advisor.post("/v1/recommendations", &body).await?.expect(201)
}

/// What the sheet of a field says it learned; how widely the resistance may still lie, high over low.
fn first_words(sheet: &Body, name: &str, report: &mut Report<'_>) -> Result<f64> {
    let chance = sheet.number("/settings/down_force/chance_in_window")? * 100.0;
    let force = sheet.shown("/settings/down_force/per_row")?;
    report.item(name, &format!("first pass at {force}, right with {chance:.0} % chance"))?;
    report.item("learned", sheet.text("/learned/words")?)?;
    Ok(sheet.number("/learned/resistance/high")? / sheet.number("/learned/resistance/low")?)
}

/// Issues, digs and adjusts, a line for each dig.
async fn field(
    cast: &Cast,
    hidden: &Hidden,
    sheet: Body,
    name: &str,
    report: &mut Report<'_>,
) -> Result<()> {
    let mut sheet = advice::quietly_issued(cast, &sheet).await?;
    for count in 1..=MOST_DIGS {
        cast.later(45);
        let Judged { body, kind, .. } =
            digging::dug(cast, hidden, &sheet, &format!("{name} dig {count}")).await?;
        report.item(
            &format!("dig {count}"),
            &format!(
                "{} deep on the mean, wanted {}; {}",
                body.shown("/depth/planter/mean")?,
                body.shown("/depth/target")?,
                body.text("/proposal/words")?,
            ),
        )?;
        if kind != "down_force" || count == MOST_DIGS {
            break;
        }
        sheet = digging::accepted(cast, &body).await?;
        sheet = advice::quietly_issued(cast, &sheet).await?;
    }
    Ok(())
}

/// What the service says of the planter in the end.
async fn told(cast: &Cast, planter: &str, report: &mut Report<'_>) -> Result<()> {
    let path = format!("/v1/planters/{planter}/resistance");
    let known = cast.grower.get(&path).await?.expect(200)?;
    let classes = known.list("/classes");
    let words = classes.first().map_or("", |class| class.word("/words"));
    report.item("the planter", words)
}

/// Hours until the work goes on.
const BREAK: i64 = 1;

/// The same afternoon, once the first field is done.
pub(super) fn after_a_break(cast: &Cast) {
    cast.later(BREAK * 60);
}
