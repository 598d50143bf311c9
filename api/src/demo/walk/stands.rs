//! After planting: how warm it was, what came up, and whether it would be worth planting again.

use chrono::NaiveDate;
use serde_json::{Value, json};

use super::cast::Cast;
use super::digging::Hidden;
use super::report::Report;
use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::scenario::{after, at, weather};
use crate::demo::season::in_use;
use crate::demo::truth;

/// Places that are walked to.
const PLACES: u16 = 5;
/// Length of row of one count, ft.
const STRETCH: f64 = 17.424;
/// Seeds of one stretch.
const SEEDS: u32 = 33;
/// Days that are entered before the crop is up.
const FIRST_DAYS: u64 = 6;
/// Days after planting on which the stand is counted.
const COUNTED_AFTER: u64 = 26;

/// Enters the planting and the temperatures, counts the stand and compares.
pub(super) async fn counted(
    cast: &Cast,
    (field, planter): (&str, &str),
    (hidden, sheet): (&Hidden, &Body),
    report: &mut Report<'_>,
) -> Result<()> {
    report.step("What was planted comes up: heat, stand, and planting again")?;
    let planting = planted(cast, (field, planter), sheet, report).await?;
    let on: NaiveDate = cast.now().date_naive();
    let farm = cast.advisor.get(&format!("/v1/fields/{field}")).await?.expect(200)?;
    let farm = farm.text("/farm_id")?.to_owned();
    cast.clock.set(at(after(on, FIRST_DAYS), 19, 0));
    warm(cast, &farm, (on, FIRST_DAYS), report).await?;
    forecast(cast, planting.text("/id")?, report).await?;
    cast.clock.set(at(after(on, COUNTED_AFTER), 18, 0));
    warm_again(cast, &farm, on).await?;
    let counted = stand(cast, field, (hidden, sheet), report).await?;
    again(cast, &counted, report).await
}

async fn planted(
    cast: &Cast,
    (field, planter): (&str, &str),
    sheet: &Body,
    report: &mut Report<'_>,
) -> Result<Body> {
    let path = format!("/v1/fields/{field}/plantings");
    let body = json!({
        "planter_id": planter,
        "planted_on": cast.now().date_naive(),
        "crop": cast.field.crop,
        "recommendation_id": sheet.text("/id")?,
        "seeds": {"value": 33_000, "unit": "1/[acr_us]"},
        "depth": sheet.json.pointer("/settings/depth/value"),
    });
    let planting = cast.grower.post(&path, &body).await?.expect(201)?;
    let again = cast.grower.post(&path, &body).await?;
    let same = again.status == 200 && again.body().word("/id") == planting.word("/id");
    report.holds(same, "the same planting sent twice is one", &again.status.to_string())?;
    report.item("planted", &format!("{} of {}", planting.shown("/area")?, cast.field.name))?;
    Ok(planting)
}

/// Days from planting on, but for the third.
async fn warm(
    cast: &Cast,
    farm: &str,
    (on, days): (NaiveDate, u64),
    report: &mut Report<'_>,
) -> Result<()> {
    let dates = on.iter_days().take(usize::try_from(days).unwrap_or(0) + 1);
    let list: Vec<Value> =
        dates.enumerate().filter(|(at, _)| *at != 3).map(|(_, date)| one_day(date)).collect();
    let taken = sent(cast, farm, list).await?;
    let missing = taken.list("/missing").len();
    let named = missing == 1 && taken.word("/missing/0") == after(on, 3).to_string();
    report.holds(named, "the day that is missing is named", &format!("{missing} missing"))
}

async fn warm_again(cast: &Cast, farm: &str, on: NaiveDate) -> Result<()> {
    let today = cast.now().date_naive();
    let dates = on.iter_days().take_while(|date| *date <= today);
    sent(cast, farm, dates.map(one_day).collect()).await?;
    Ok(())
}

async fn sent(cast: &Cast, farm: &str, days: Vec<Value>) -> Result<Body> {
    let path = format!("/v1/farms/{farm}/temperatures");
    cast.grower.post(&path, &json!({"station": "the yard", "days": days})).await?.expect(200)
}

fn one_day(date: NaiveDate) -> Value {
    let (high, low) = weather::air(date);
    let degrees = |value: f64| json!({"value": value, "unit": "[degF]"});
    json!({"date": date, "high": degrees(high), "low": degrees(low)})
}

async fn forecast(cast: &Cast, planting: &str, report: &mut Report<'_>) -> Result<()> {
    let path = format!("/v1/plantings/{planting}/degree-days");
    let plain = cast.grower.get(&path).await?.expect(200)?;
    let filled = cast.grower.get(&format!("{path}?fill_gaps=1")).await?.expect(200)?;
    let days = plain.list("/days");
    let sum: f64 = days.iter().filter_map(|day| day.number("/degree_days/value").ok()).sum();
    let told = plain.number("/sum/value")?;
    report.holds((sum - told).abs() < 0.01, "the sum is that of its days", &told.to_string())?;
    let more = filled.list("/days").len() == days.len() + 1 && filled.list("/assumed").len() == 1;
    report.holds(more, "a gap is filled only when asked, and marked", "none")?;
    let path = format!("/v1/plantings/{planting}/emergence-forecast");
    let normal = json!({"fill_gaps": 1, "normal_day": {
        "high": {"value": 68, "unit": "[degF]"}, "low": {"value": 46, "unit": "[degF]"}
    }});
    let told = cast.grower.post(&path, &normal).await?.expect(200)?;
    let [first, likely, last] =
        ["/earliest", "/likely", "/latest"].map(|it| told.word(it).to_owned());
    let ordered = !first.is_empty() && first <= likely && likely <= last;
    report.holds(ordered, "first, likely and last day stand in order", &first)?;
    for words in told.list("/words") {
        report.say(words.json.as_str().unwrap_or_default())?;
    }
    Ok(())
}

async fn stand(
    cast: &Cast,
    field: &str,
    (hidden, sheet): (&Hidden, &Body),
    report: &mut Report<'_>,
) -> Result<Body> {
    let set = in_use(sheet, cast.planter, 0.5)?;
    let counts: Vec<Value> = (1..=PLACES)
        .map(|place| {
            let row = 1 + place % cast.planter.rows;
            let truth = (&hidden.iron, &hidden.ground);
            let found = truth::stand(truth, &set, (row, SEEDS), &format!("walk stand {place}"));
            json!({"place": place, "row": row, "plants": found.plants})
        })
        .collect();
    let path = format!("/v1/fields/{field}/stand-counts");
    let body = |counts: &[Value]| {
        json!({"counted_on": cast.now().date_naive(), "count": {
            "kind": "row_length", "length": {"value": STRETCH, "unit": "[ft_i]"}, "counts": counts
        }})
    };
    let counted = cast.grower.post(&path, &body(&counts)).await?.expect(201)?;
    let again = cast.grower.post(&path, &body(&counts)).await?;
    report.quietly(again.status == 200, "a count sent twice is one", &again.status.to_string())?;
    let nobody = json!({"place": 1, "row": cast.planter.rows + 1, "plants": 30});
    let refused = cast.grower.post(&path, &body(&[nobody])).await?;
    report.holds(
        refused.status == 422,
        "a row that the planter does not have is refused",
        &refused.status.to_string(),
    )?;
    let at = |pointer: &str| counted.number(&format!("/population/{pointer}/value"));
    let (low, value, high) = (at("low")?, at("value")?, at("high")?);
    let holds = low <= value && value <= high;
    report.holds(holds, "the stand lies in its interval", &format!("{low} {value} {high}"))?;
    let up = counted.number("/emergence/value/value")?;
    report.holds(up > 0.0 && up < 105.0, "no more plants than seeds", &up.to_string())?;
    report.item(
        "stand",
        &format!(
            "{} plants an acre ({:.0} to {:.0}), {up:.0} % of the seed",
            value.round(),
            low,
            high
        ),
    )?;
    Ok(counted)
}

async fn again(cast: &Cast, counted: &Body, report: &mut Report<'_>) -> Result<()> {
    let path = format!("/v1/stand-counts/{}/replant-comparison", counted.text("/id")?);
    let body = json!({
        "on": cast.now().date_naive(),
        "seeds": {"value": 32_000, "unit": "1/[acr_us]"},
        "expected_yield_bu_ac": 200,
        "money": {"currency": "USD", "price_per_bu": 4.5, "seed_per_ac": 95,
            "trip_per_ac": 18, "killing_per_ac": 14},
    });
    let refused = cast.grower.post(&path, &body).await?;
    report.quietly(refused.status == 403, "only advisors compare", &refused.status.to_string())?;
    let told = cast.advisor.post(&path, &body).await?.expect(200)?;
    let tables = told.list("/tables");
    let all = tables.len() + told.list("/not_covered").len();
    report.holds(all == 5, "every table is named, with what it covers", &all.to_string())?;
    for table in &tables {
        let at = |name: &str| table.number(&format!("/{name}/value"));
        let (low, gain, high) = (at("gain_low")?, at("gain")?, at("gain_high")?);
        report.quietly(low <= gain && gain <= high, "the gain lies in its range", "outside")?;
        report.item(table.text("/region")?, table.text("/words")?)?;
    }
    let first = told.list("/first");
    let insurer = first.first().is_some_and(|it| it.word("/text").contains("insurer"));
    report.holds(insurer, "the insurer comes before any figure", "not said")
}
