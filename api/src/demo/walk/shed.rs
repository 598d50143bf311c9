//! The planter in the shed: looked at before the season, mended, and looked at again when it is over.

use domain::planter::inspection::ItemCode;
use serde_json::{Value, json};

use super::cast::Cast;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::truth::{Iron, Worked};

/// One US survey acre, m².
const ACRE: f64 = 4_046.872_609_874_252;
/// The row whose seed tube is frayed.
const FRAYED: u16 = 3;
/// The row of which the eye says that its arms are good.
const LOOSE: u16 = 5;
/// What is to be planted, and what the counter of the planter shows before, acres.
const PLANNED: f64 = 900.0;
const COUNTER: f64 = 4200.0;

/// Looks at the planter: one row is found bad by eye, one by measure alone.
pub(super) async fn looked_at(cast: &Cast, planter: &str, report: &mut Report<'_>) -> Result<()> {
    report.step("The planter in the shed")?;
    let path = format!("/v1/inspection-items?planter_id={planter}");
    let list = cast.grower.get(&path).await?.expect(200)?.list("/items");
    report.say(&format!(
        "The grower works down a checklist of {} items, front to back.",
        list.len()
    ))?;
    let made = post(cast, planter, before(cast)).await?;
    let row = |item: &str, row: u16| {
        let judged = made.list("/judged").into_iter();
        judged
            .filter(|it| it.word("/item") == item)
            .find(|it| it.number("/row").ok() == Some(row.into()))
    };
    let loose = row(ItemCode::ArmPlayVertical.code(), LOOSE);
    let words = loose.as_ref().map(|it| it.word("/words").to_owned()).unwrap_or_default();
    report.say(&format!("Arms of row {LOOSE}: {words}"))?;
    let worse = loose.is_some_and(|it| {
        it.word("/by_eye") == "pass"
            && it.word("/status") == "replace"
            && it.json.pointer("/disagree") == Some(&json!(true))
    });
    report.holds(
        worse,
        "where eye and measurement disagree both are kept and the worse counts",
        &words,
    )?;
    let list = parts(cast, planter).await?;
    for line in list.list("/items") {
        let whys: Vec<String> =
            line.list("/for").iter().map(|it| it.word("/why").to_owned()).collect();
        report.say(&format!("To do: {} ({}).", line.word("/words"), whys.join("; ")))?;
    }
    let tube = list.list("/items").into_iter().find(|it| it.word("/item") == "seed_tube");
    let one = tube.is_some_and(|it| it.number("/count").ok() == Some(1.0));
    report.holds(
        one,
        "the list for the shed asks for one seed tube, for one row",
        "another count",
    )?;
    mend(cast, planter, ("arm_play_vertical", LOOSE, true)).await?;
    let left = parts(cast, planter).await?.list("/items").len();
    report.holds(
        left == 1,
        "arms that were mended are off the list, the tube is still on it",
        &left.to_string(),
    )
}

/// The sheet says what was not mended, until it is.
pub(super) async fn flagged(
    cast: &Cast,
    (planter, sheet): (&str, &Body),
    report: &mut Report<'_>,
) -> Result<()> {
    report.step("What was left undone in the shed stands on the sheet")?;
    let path = format!("/v1/recommendations/{}", sheet.text("/id")?);
    let read = cast.advisor.get(&path).await?.expect(200)?;
    let open = read.list("/open_replacements");
    let words: Vec<&str> = open.iter().map(|it| it.word("/words")).collect();
    report.say(&format!("Open: {}.", words.join("; ")))?;
    let page = cast.advisor.get(&format!("{path}/sheet")).await?.text;
    let there = open.len() == 1 && words.iter().all(|it| page.contains(it));
    report.holds(
        there,
        "the one open part stands in the answer and on the page in the cab",
        &words.join("; "),
    )?;
    mend(cast, planter, ("seed_tube", FRAYED, true)).await?;
    let after = cast.advisor.get(&path).await?.expect(200)?;
    let gone = after.list("/open_replacements").is_empty() && after.tag()? != read.tag()?;
    report.holds(gone, "mended, it is gone, though the sheet itself was not changed", "still there")
}

/// Looks at the discs again after the season: the wear that is worked out holds what really wore away.
pub(super) async fn looked_at_again(
    cast: &Cast,
    planter: &str,
    report: &mut Report<'_>,
) -> Result<()> {
    report.step("Back in the shed: how fast the discs wear")?;
    let iron = Iron::of(cast.planter);
    let rows = cast.planter.rows;
    post(
        cast,
        planter,
        json!({
            "inspected_on": cast.now().date_naive(), "findings": discs(cast, &iron, after(cast)),
            "area_counter": acres(COUNTER + PLANNED),
        }),
    )
    .await?;
    let wear = cast.advisor.get(&format!("/v1/planters/{planter}/wear")).await?.expect(200)?;
    let item = wear.list("/items").into_iter().find(|it| it.word("/item") == "opener_diameter");
    let item = item.unwrap_or_else(|| Body::part(&Value::Null));
    report.say(item.word("/words"))?;
    let mut held = 0_u16;
    for row in item.list("/rows") {
        let number = row.number("/row")?;
        let truth = (1..=rows)
            .find(|it| number.to_string() == it.to_string())
            .map(|it| iron.worn(it, Worked { acres: 1.0, ..after(cast) }));
        let over = row.si("/wear/over")? / ACRE;
        let truth = truth.unwrap_or_default() * over;
        let (low, high) = (row.si("/wear/low")?, row.si("/wear/high")?);
        held += u16::from(low <= truth && truth <= high);
    }
    let what = format!("the range of wear holds what really wore away, on each of {rows} rows");
    report.holds(held == rows, &what, &format!("on {held} rows"))
}

/// What the grower writes down before the season.
fn before(cast: &Cast) -> Value {
    let worked = Worked { planter: cast.planter.name, acres: 0.0, day: "before" };
    let mut findings = discs(cast, &Iron::of(cast.planter), worked);
    findings.extend([
        json!({"item": "hitch_level", "status": "pass"}),
        json!({"item": "arm_play_vertical", "rows": [LOOSE], "status": "pass",
               "measured": {"value": 2.25, "unit": "[in_i]"}}),
        json!({"item": "seed_tube", "rows": [FRAYED], "status": "replace",
               "notes": "Frayed at the end."}),
    ]);
    json!({
        "inspected_on": "2026-03-14", "findings": findings, "area_counter": acres(COUNTER),
        "season_plan": {"area": acres(PLANNED), "from": "2026-04-15", "until": "2026-06-05"}
    })
}

fn after(cast: &Cast) -> Worked<'static> {
    Worked { planter: cast.planter.name, acres: PLANNED, day: "after" }
}

/// What the tape reads on each row.
fn discs(cast: &Cast, iron: &Iron, worked: Worked<'_>) -> Vec<Value> {
    let one = |row: u16| {
        json!({
            "item": "opener_diameter", "rows": [row],
            "measured": {"value": iron.tape(row, worked), "unit": "[in_i]"}
        })
    };
    (1..=cast.planter.rows).map(one).collect()
}

async fn post(cast: &Cast, planter: &str, body: Value) -> Result<Body> {
    let path = format!("/v1/planters/{planter}/inspections");
    cast.grower.post(&path, &body).await?.expect(201)
}

async fn mend(cast: &Cast, planter: &str, (item, row, new_part): (&str, u16, bool)) -> Result<()> {
    let body = json!({
        "item": item, "rows": [row], "repaired_on": cast.now().date_naive(), "new_part": new_part
    });
    cast.grower.post(&format!("/v1/planters/{planter}/repairs"), &body).await?.expect(201)?;
    Ok(())
}

async fn parts(cast: &Cast, planter: &str) -> Result<Body> {
    cast.grower.get(&format!("/v1/parts-list?planter_id={planter}")).await?.expect(200)
}

fn acres(value: f64) -> Value {
    json!({"value": value, "unit": "[acr_us]"})
}
