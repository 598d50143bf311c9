//! Seasons: the calendar of a practice, what is kept of each, and the report.

mod calendar;
mod histories;
mod names;
mod report;

use serde_json::{Value, json};
use tests::{Farmstead, User};

/// A dig at a time: `inside` with seed at depth and wheels that turn with effort, else shallow seed and
/// free wheels.
fn dig_body(at: &str, inside: bool) -> Value {
    let mut body = Farmstead::dig_body();
    body["dug_at"] = json!(at);
    if inside {
        for row in body["rows"].as_array_mut().expect("rows") {
            row["gauge_wheels"] = json!("turn_with_effort");
            row["seed_depths"]["values"] = json!([2.0, 2.0, 1.875, 2.0, 2.125]);
        }
    }
    body
}

async fn dig(user: &User, stead: &Farmstead, at: &str, inside: bool) -> Value {
    let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    user.post(&path, &dig_body(at, inside)).await.assert_status(201).json()
}

async fn report(user: &User, season: i32, of: &str) -> Value {
    let path = format!("/v1/seasons/{season}/report{of}");
    user.get(&path).await.assert_status(200).json()
}
