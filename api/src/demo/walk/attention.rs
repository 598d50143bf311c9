//! A Monday: what needs somebody, and in which order.

use chrono::{Datelike, Days, Weekday};
use serde_json::json;

use super::cast::Cast;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::scenario::place;
use crate::demo::wire;

/// How far the week goes on before the list is asked for: at least so many days.
const AT_LEAST: u64 = 5;
/// How many entries are told.
const TOLD: usize = 7;

/// Two sheets go out on some day; the list is asked for on a Monday after.
pub(super) async fn on_a_monday(cast: &Cast, planter: &str, report: &mut Report<'_>) -> Result<()> {
    report.step("A Monday: who needs somebody, and what comes first")?;
    let body = json!({"grower_id": cast.grower_id, "name": "River place"});
    let farm = cast.advisor.post("/v1/farms", &body).await?.expect(201)?;
    let farm = farm.text("/id")?;
    let seen = issued(cast, (farm, "River bottom"), planter).await?;
    let path = format!("/v1/recommendations/{}", seen.text("/id")?);
    let read = cast.grower.get(&path).await?.expect(200)?;
    cast.grower.step(&format!("{path}/acknowledge"), read.tag()?, None).await?.expect(200)?;
    let unseen = issued(cast, (farm, "Mill eighty"), planter).await?;
    until_monday(cast);
    let list = cast.advisor.get("/v1/attention?limit=200").await?.expect(200)?;
    let day = cast.now().format("%A, %-d %B").to_string();
    report.say(&format!("{day}: {}", counts(&list)?))?;
    let entries = list.list("/items");
    for entry in entries.iter().take(TOLD) {
        let what = format!("{}: {}", entry.word("/kind"), entry.word("/reason"));
        report.item(entry.word("/urgency"), &what)?;
    }
    checked(&entries, (&seen, &unseen), report)?;
    put_off(cast, &entries, report).await?;
    own_only(cast, report).await
}

/// A field with a sheet that is issued.
async fn issued(cast: &Cast, (farm, name): (&str, &str), planter: &str) -> Result<Body> {
    let plan = cast.field;
    let body = json!({
        "farm_id": farm, "name": name, "texture_class": plan.texture,
        "boundary": place::rectangle(0, 0, plan.acres),
    });
    let field = cast.advisor.post("/v1/fields", &body).await?.expect(201)?;
    let field = field.text("/id")?;
    let today = cast.now().date_naive();
    let planting = today.checked_add_days(Days::new(1)).unwrap_or(today);
    let body = wire::conditions(plan, today, planting);
    cast.advisor.post(&format!("/v1/fields/{field}/conditions"), &body).await?.expect(201)?;
    let goals = wire::goals(plan.crop, cast.planter.speed);
    let body = json!({"field_id": field, "planter_id": planter, "goals": goals});
    let sheet = cast.advisor.post("/v1/recommendations", &body).await?.expect(201)?;
    let path = format!("/v1/recommendations/{}", sheet.text("/id")?);
    let read = cast.advisor.get(&path).await?.expect(200)?;
    cast.advisor.step(&format!("{path}/issue"), read.tag()?, None).await?.expect(200)
}

fn until_monday(cast: &Cast) {
    let mut days = 0;
    while days < AT_LEAST || cast.now().date_naive().weekday() != Weekday::Mon {
        cast.later(24 * 60);
        days += 1;
    }
}

fn counts(list: &Body) -> Result<String> {
    let count = |urgency: &str| list.number(&format!("/counts/{urgency}"));
    let (now, soon, later) = (count("now")?, count("soon")?, count("when_you_can")?);
    Ok(format!("{now:.0} now, {soon:.0} soon, {later:.0} when you can."))
}

/// The sheets stand where they should, and the order is that of urgency, then of the day.
fn checked(
    entries: &[Body],
    (seen, unseen): (&Body, &Body),
    report: &mut Report<'_>,
) -> Result<()> {
    let rank = |entry: &Body| {
        ["now", "soon", "when_you_can"].iter().position(|it| *it == entry.word("/urgency"))
    };
    let places: Vec<_> =
        entries.iter().map(|entry| (rank(entry), entry.word("/due_on").to_owned())).collect();
    report.holds(
        places.is_sorted(),
        "the most urgent come first, of those the longest due",
        "not so",
    )?;
    for (kind, sheet) in [("dig_overdue", seen), ("sheet_unseen", unseen)] {
        let id = sheet.text("/id")?;
        let there = entries
            .iter()
            .any(|entry| entry.word("/kind") == kind && entry.word("/object_id") == id);
        let what = match kind {
            "dig_overdue" => "the sheet that was seen asks for its dig",
            _ => "the sheet that nobody saw asks to be shown",
        };
        report.holds(there, what, "not on the list")?;
    }
    let kinds: std::collections::BTreeSet<&str> =
        entries.iter().map(|entry| entry.word("/kind")).collect();
    let found: Vec<&str> = kinds.iter().copied().collect();
    report.holds(kinds.len() >= 3, "several kinds of things are on it", &found.join(", "))?;
    let told = entries.iter().all(|entry| entry.word("/reason").ends_with('.'));
    report.holds(told, "each says why in a sentence", "one does not")
}

/// Whoever puts something off says until when and why; then it is gone from the list.
async fn put_off(cast: &Cast, entries: &[Body], report: &mut Report<'_>) -> Result<()> {
    let Some(first) = entries.first() else {
        return report.holds(false, "something is on the list", "nothing");
    };
    let key = first.text("/key")?;
    let today = cast.now().date_naive();
    let until = today.checked_add_days(Days::new(3)).unwrap_or(today);
    let body = json!({"until": until, "reason": "The river is over the field."});
    cast.advisor.post(&format!("/v1/attention/{key}/snooze"), &body).await?.expect(200)?;
    let list = cast.advisor.get("/v1/attention?limit=200").await?.expect(200)?;
    let gone = list.list("/items").iter().all(|entry| entry.word("/key") != key);
    report.holds(gone, "what is put off is not on the list until its day", "still there")
}

/// A grower finds what is his own to do.
async fn own_only(cast: &Cast, report: &mut Report<'_>) -> Result<()> {
    let list = cast.grower.get("/v1/attention?limit=200").await?.expect(200)?;
    let entries = list.list("/items");
    let own = |entry: &Body| entry.word("/grower/id") == cast.grower_id;
    let only = !entries.is_empty() && entries.iter().all(own);
    let found = format!("{} entries", entries.len());
    report.holds(only, "the grower finds what is his own to do, and nobody else's", &found)
}
