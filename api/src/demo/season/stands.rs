//! What was planted, how warm it was, and what came up.

use std::sync::Arc;

use chrono::NaiveDate;
use domain::conditions::Crop;
use serde_json::{Value, json};

use super::practice::Practice;
use super::sheet::in_use;
use super::story::Planted;
use crate::clock::{Clock, FixedClock};
use crate::demo::dice::Dice;
use crate::demo::error::Result;
use crate::demo::scenario::{after, at, day, weather};
use crate::demo::truth::{self, Ground};

/// Length of row of one count, ft: near a thousandth of an acre in 30 in rows.
const STRETCH: f64 = 17.4;
const FOOT: f64 = 0.304_8;
/// Places that are walked to in a field.
const PLACES: u16 = 5;
/// Days after planting on which stands are counted; the last fields wait for it.
const COUNTED_AFTER: u64 = 27;
/// How late the late plants were, days.
const LATE_BY: u32 = 6;

/// Enters every planting and the temperatures of every farm, and counts the stands of the fields that
/// were planted in April and in the first days of May.
pub(super) async fn came_up(
    practice: &Practice,
    clock: &Arc<FixedClock>,
    planted: &[Planted<'_>],
) -> Result<()> {
    for it in planted {
        let path = format!("/v1/fields/{}/plantings", it.field_id);
        let voice = practice.voice_of(it.plan.grower)?;
        voice.post(&path, &planting(it)).await?.expect(201)?;
    }
    let last = day(6, 24);
    clock.set(at(last, 7, 0).max(clock.now()));
    for (grower, farm) in practice.farms() {
        let path = format!("/v1/farms/{farm}/temperatures");
        let advisor = practice.advisor_of(grower)?;
        advisor.post(&path, &temperatures(last)).await?.expect(200)?;
    }
    for it in planted.iter().filter(|it| it.on <= day(5, 4)) {
        count(practice, clock, it).await?;
    }
    Ok(())
}

fn planting(it: &Planted<'_>) -> Value {
    let settings = |pointer: &str| it.sheet.json.pointer(pointer).cloned();
    let mut body = json!({
        "planter_id": it.planter_id,
        "planted_on": it.on,
        "crop": it.plan.crop,
        "depth": settings("/settings/depth/value"),
        "hours": (it.plan.acres / 1.4).round() / 10.0,
        "cost": {"amount": (it.plan.acres * 128.0).round(), "currency": "USD"},
        "recommendation_id": it.sheet.word("/id"),
    });
    if let (Some(members), Some(rate)) = (body.as_object_mut(), settings("/settings/seeding/rate"))
    {
        members.insert("seeds".to_owned(), rate);
    }
    body
}

/// The station of the county, from April on; one day was lost.
fn temperatures(last: NaiveDate) -> Value {
    let missing = day(5, 9);
    let dates = day(4, 1).iter_days().take_while(|date| *date <= last);
    let days: Vec<Value> = dates
        .filter(|date| *date != missing)
        .map(|date| {
            let (high, low) = weather::air(date);
            json!({
                "date": date,
                "high": {"value": high, "unit": "[degF]"},
                "low": {"value": low, "unit": "[degF]"},
            })
        })
        .collect();
    json!({"station": "County road station", "days": days})
}

async fn count(practice: &Practice, clock: &Arc<FixedClock>, it: &Planted<'_>) -> Result<()> {
    let counted_on = after(it.on, COUNTED_AFTER);
    let moisture = weather::moisture(it.on, it.plan.texture, it.plan.green());
    let ground = Ground::of(it.plan, moisture);
    let set = in_use(it.sheet, it.planter, 0.5)?;
    let seeds = dropped(it.plan.crop, set.spacing);
    let mut dice = Dice::of(&format!("{} stand rows", it.plan.name));
    let counts: Vec<Value> = (1..=PLACES)
        .map(|place| {
            let row = 1 + u16::try_from(dice.pick(usize::from(it.planter.rows))).unwrap_or(0);
            let words = format!("{} stand {place}", it.plan.name);
            let found = truth::stand((&it.iron, &ground), &set, (row, seeds), &words);
            json!({"place": place, "row": row, "plants": found.plants, "late": found.late})
        })
        .collect();
    let mut body = json!({
        "counted_on": counted_on,
        "count": {
            "kind": "row_length",
            "length": {"value": STRETCH, "unit": "[ft_i]"},
            "counts": counts,
        },
    });
    let late = counts.iter().any(|it| it.get("late").and_then(Value::as_u64).unwrap_or(0) > 0);
    if let (true, Some(members)) = (late, body.as_object_mut()) {
        members.insert("late_by_days".to_owned(), json!(LATE_BY));
    }
    clock.set(at(counted_on, 18, 0).max(clock.now()));
    let path = format!("/v1/fields/{}/stand-counts", it.field_id);
    practice.voice_of(it.plan.grower)?.post(&path, &body).await?.expect(201)?;
    Ok(())
}

/// Seeds of one stretch of row.
fn dropped(crop: Crop, spacing: f64) -> u32 {
    let usual = match crop {
        Crop::Corn => 33,
        Crop::Soybean => 80,
    };
    let metres = STRETCH * FOOT;
    (1..=400).find(|n| f64::from(*n) * spacing >= metres).unwrap_or(usual)
}
