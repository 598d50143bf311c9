//! Planters in the shed: inspections, limits, repairs, wear, parts, and what sheets say of them.

mod entered;
mod flagged;
mod limits;
mod on_paper;
mod parts;
mod refused;
mod wear;

use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

/// A grower's planter of eight rows: coulters, floating cleaners, one spiked and one rubber wheel, bags.
pub(super) async fn planter(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await
}

pub(super) fn inches(value: f64) -> Value {
    json!({"value": value, "unit": "[in_i]"})
}

pub(super) fn acres(value: f64) -> Value {
    json!({"value": value, "unit": "[acr_us]"})
}

/// An inspection with these findings.
pub(super) fn on(day: &str, findings: Value) -> Value {
    json!({"inspected_on": day, "findings": findings})
}

/// Discs of some rows.
pub(super) fn discs(of: &[(u16, f64)]) -> Value {
    let one = |(row, inch): &(u16, f64)| json!({"item": "opener_diameter", "rows": [row], "measured": inches(*inch)});
    of.iter().map(one).collect()
}

pub(super) fn path(stead: &Farmstead, what: &str) -> String {
    format!("/v1/planters/{}/{what}", stead.planter)
}

/// Posts an inspection.
pub(super) async fn inspect(user: &User, stead: &Farmstead, body: &Value) -> Value {
    user.post(&path(stead, "inspections"), body).await.assert_status(201).json()
}

/// Posts a repair with a new part.
pub(super) async fn mend(
    user: &User,
    stead: &Farmstead,
    item: &str,
    rows: &[u16],
    day: &str,
) -> Value {
    let body = json!({"item": item, "rows": rows, "repaired_on": day, "new_part": true});
    user.post(&path(stead, "repairs"), &body).await.assert_status(201).json()
}

/// What was found at an item on a row.
pub(super) fn judged<'a>(inspection: &'a Value, item: &str, row: Option<u16>) -> &'a Value {
    let all = inspection["judged"].as_array().expect("a list");
    let row = row.map_or(Value::Null, |row| json!(row));
    let found = all.iter().find(|it| it["item"] == item && it["row"] == row);
    found.unwrap_or_else(|| panic!("no {item} on {row} in {inspection}"))
}
