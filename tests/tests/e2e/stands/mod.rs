//! Plantings, temperatures, emergence, stand counts, and planting again.

mod due;
mod emergence;
mod files;
mod plantings;
mod replant;
mod stand_counts;
mod temperatures;

use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

/// A farmstead of the grower who can sign in, with a sheet that was issued.
pub(crate) async fn stead(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await
}

/// A planting of corn in this field.
pub(crate) fn planting(stead: &Farmstead, on: &str) -> Value {
    json!({
        "planter_id": stead.planter, "planted_on": on, "crop": "corn",
        "seeds": {"value": 34_000.0, "unit": "1/[acr_us]"},
        "depth": {"value": 2.0, "unit": "[in_i]"}
    })
}

/// Enters one and gives its id.
pub(crate) async fn planted(user: &User, stead: &Farmstead, on: &str) -> String {
    let path = format!("/v1/fields/{}/plantings", stead.field);
    user.create(&path, &planting(stead, on)).await
}

/// A day, °F.
pub(crate) fn day(date: &str, high: f64, low: f64) -> Value {
    json!({
        "date": date,
        "high": {"value": high, "unit": "[degF]"},
        "low": {"value": low, "unit": "[degF]"}
    })
}

/// Steady days of 80 and 55 °F, 17.5 degree days each, from a day of April 2027 on.
pub(crate) fn steady(first: u32, days: u32) -> Vec<Value> {
    (first..first + days).map(|date| day(&format!("2027-04-{date:02}"), 80.0, 55.0)).collect()
}

/// Plants in thousandths of an acre of 30 in rows, each at a place of its own.
pub(crate) fn thousandths(on: &str, plants: &[u32]) -> Value {
    let counts: Vec<Value> = (1..)
        .zip(plants)
        .map(|(place, n)| json!({"place": place, "row": place, "plants": n}))
        .collect();
    json!({"counted_on": on, "count": {
        "kind": "row_length", "length": {"value": 17.424, "unit": "[ft_i]"}, "counts": counts
    }})
}

/// Whether two figures agree to a part in ten thousand.
pub(crate) fn near(found: &Value, expected: f64) -> bool {
    found.as_f64().is_some_and(|it| (it - expected).abs() <= 1e-4 * expected.abs().max(1e-9))
}
