//! What records systems say, by their own ids: taken, waiting, in conflict, refused.

mod access;
mod attention;
mod batches;
mod conflicts;
mod erased;
mod gone;
mod matches;
mod planters;
mod puts;
mod refused;
mod yields;

use serde_json::{Value, json};
use tests::{Answer, TestApp};

/// The oracle G1: 159,875.4 m² on WGS 84 by an independent library; 39.506 acres.
pub(super) fn g1() -> Value {
    json!({"type": "Polygon", "coordinates": [[
        [-93.6, 42.0], [-93.59517, 42.0], [-93.59517, 42.003597], [-93.6, 42.003597], [-93.6, 42.0]
    ]]})
}

/// A square of a hundredth of a degree.
pub(super) fn square(west: f64, south: f64) -> Value {
    let (east, north) = (west + 0.01, south + 0.01);
    json!({"type": "Polygon", "coordinates": [[
        [west, south], [east, south], [east, north], [west, north], [west, south]
    ]]})
}

/// A Feature with these properties.
pub(super) fn feature(geometry: &Value, properties: &Value) -> Value {
    json!({"type": "Feature", "geometry": geometry, "properties": properties})
}

/// Puts a record as the records system.
pub(super) async fn put(app: &TestApp, what: &str, body: &Value) -> Answer {
    app.records_system.send("PUT", &at(what), &[], Some(body)).await
}

/// Where a record is, as in `fields/F-1`.
pub(super) fn at(what: &str) -> String {
    format!("/v1/external/records/{what}")
}

/// Grower `G-1` and farm `A-1`, taken; their ids here.
pub(super) async fn upstream(app: &TestApp) -> (String, String) {
    let grower = put(app, "growers/G-1", &json!({"name": "Prairie Partners"})).await;
    let grower = grower.assert_status(201).json();
    let farm = put(app, "farms/A-1", &json!({"grower": "G-1", "name": "Home"})).await;
    let farm = farm.assert_status(201).json();
    (id_of(&grower["grower"]), id_of(&farm["farm"]))
}

pub(super) fn id_of(object: &Value) -> String {
    object["id"].as_str().unwrap_or_else(|| panic!("no id in {object}")).to_owned()
}

/// Sends a batch as the records system; gives the answer.
pub(super) async fn batch(app: &TestApp, body: &Value) -> Value {
    let path = "/v1/external/records/batch";
    app.records_system.post(path, body).await.assert_status(200).json()
}

/// How many objects of a kind the lead sees.
pub(super) async fn many(app: &TestApp, what: &str) -> usize {
    let page = app.lead.get(&format!("/v1/{what}?limit=200")).await.assert_status(200).json();
    page["items"].as_array().expect("items").len()
}

/// The one thing in a list that waits for a person.
pub(super) async fn only(app: &TestApp, list: &str) -> Value {
    let page = app.lead.get(list).await.assert_status(200).json();
    let items = page["items"].as_array().expect("items");
    assert_eq!(items.len(), 1, "{page}");
    items[0].clone()
}

/// A make-up as it is answered: what has a unit is a number with a fraction.
pub(super) fn as_answered(value: &Value) -> Value {
    match value {
        Value::Object(members) => {
            let one = |(name, value): (&String, &Value)| match value.as_f64() {
                Some(number) if name == "value" => (name.clone(), json!(number)),
                _ => (name.clone(), as_answered(value)),
            };
            Value::Object(members.iter().map(one).collect())
        }
        other => other.clone(),
    }
}

/// Decides what waits, as the lead.
pub(super) async fn decide(app: &TestApp, list: &str, waiting: &Value, body: &Value) -> Answer {
    let path = format!("{list}/{}/decision", waiting["id"].as_str().expect("an id"));
    let etag = format!("\"{}\"", waiting["version"]);
    app.lead.send("POST", &path, &[("if-match", &etag)], Some(body)).await
}
