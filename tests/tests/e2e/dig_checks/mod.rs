//! Dig checks: what was found, what it says, and what becomes of what can't be or comes twice.

mod access;
mod early;
mod in_use;
mod judged;
mod lists;
mod refused;
mod replaced;
mod twice;

use api::entities::{adjustments, dig_checks};
use sea_orm::{EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

async fn issued(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await
}

fn digs(stead: &Farmstead) -> String {
    format!("/v1/recommendations/{}/dig-checks", stead.recommendation)
}

/// A dig at this minute after noon, when the sheet was issued.
fn dig_at(minute: u32) -> Value {
    let mut body = Farmstead::dig_body();
    body["dug_at"] = json!(format!("2027-04-20T12:{minute:02}:00Z"));
    body
}

/// Rows with nothing but depths, in inches.
fn depths(rows: &[(u16, &[f64])]) -> Value {
    let row = |(row, values): &(u16, &[f64])| json!({"row": row, "seed_depths": {"unit": "[in_i]", "values": values}});
    let rows: Vec<Value> = rows.iter().map(row).collect();
    json!({"dug_at": "2027-04-20T11:45:00Z", "rows": rows})
}

fn inches(it: &Value) -> f64 {
    assert_eq!(it["unit"], "[in_i]", "{it}");
    it["value"].as_f64().expect("a number")
}

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted} within {within}");
}

async fn stored(app: &TestApp) -> (u64, u64) {
    let db = &app.state().db;
    let digs = dig_checks::Entity::find().count(db).await.expect("digs");
    let changes = adjustments::Entity::find().count(db).await.expect("adjustments");
    (digs, changes)
}

/// The next revision, made of nothing but the one before, and issued.
async fn revised(app: &TestApp, stead: &Farmstead) -> Farmstead {
    let revise = format!("/v1/recommendations/{}/revise", stead.recommendation);
    let next = app.lead.create(&revise, &json!({})).await;
    let next = Farmstead { recommendation: next, ..stead.clone() };
    next.issue(&app.lead).await;
    next
}

/// The codes of the notices of a dig check.
fn notices(dig: &Value) -> Vec<&str> {
    let list = dig["notices"].as_array().expect("notices");
    list.iter().map(|it| it["code"].as_str().expect("a code")).collect()
}
