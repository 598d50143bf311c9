//! Plantings.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{near, planted, planting, stead};

#[tokio::test]
async fn a_planting_is_kept_as_entered_and_takes_the_area_of_the_field() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/fields/{}/plantings", stead.field);
    let mut body = planting(&stead, "2027-04-20");
    body["recommendation_id"] = json!(stead.recommendation);
    body["hours"] = json!(3.5);
    body["cost"] = json!({"amount": 5230.25, "currency": "USD"});
    body["note"] = json!("Rain at noon.");
    let made = app.grower.post(&path, &body).await.assert_status(201);
    let id = made.id();
    assert_eq!(made.header("location"), format!("/v1/plantings/{id}"));
    let read = app.read_only.get(&format!("/v1/plantings/{id}")).await.assert_status(200);
    assert_eq!(read.json()["id"], id.as_str());
    let found = read.json();
    for member in ["seeds", "depth", "hours", "cost", "note", "recommendation_id", "planter_id"] {
        assert_eq!(found[member], body[member], "{member}");
    }
    assert_eq!(found["area_from"], "field");
    assert!(near(&found["area"]["value"], 40.0), "{found}");
    assert_eq!(found["notices"], json!([]));
    assert_eq!(found["created_by"], app.grower.account_id.as_str());
    let list = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!(list["items"], json!([found]));
}

#[tokio::test]
async fn the_same_planting_sent_again_is_the_one_that_is_there() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/fields/{}/plantings", stead.field);
    let body = planting(&stead, "2027-04-18");
    let first = app.grower.post(&path, &body).await.assert_status(201).json();
    let again = app.lead.post(&path, &body).await.assert_status(200).json();
    assert_eq!(first, again);
    let one = format!("/v1/plantings/{}", first["id"].as_str().expect("id"));
    let change = json!({"planted_on": "2027-04-19"});
    app.grower.patch(&one, "*", &change).await.assert_status(200);
    let again = app.grower.post(&path, &body).await.assert_status(200).json();
    assert_eq!(again["planted_on"], "2027-04-19", "a change does not make the old one come back");
    let all = app.lead.get("/v1/plantings?count=true").await.json();
    assert_eq!(all["total"], json!({"rows": 1, "exact": true}));
}

#[tokio::test]
async fn what_does_not_belong_together_is_refused() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let other = Farmstead::make(&app.lead, "Other grower").await;
    let path = format!("/v1/fields/{}/plantings", stead.field);
    let with = |name: &str, value: Value| {
        let mut body = planting(&stead, "2027-04-20");
        body[name] = value;
        body
    };
    for (body, pointer) in [
        (with("planter_id", json!(other.planter)), "/planter_id"),
        (with("planter_id", json!(other.field)), "/planter_id"),
        (with("recommendation_id", json!(other.recommendation)), "/recommendation_id"),
        (with("planted_on", json!("2027-04-21")), "/planted_on"),
        (with("planted_on", json!("1999-12-31")), "/planted_on"),
        (with("hours", json!(0)), "/hours"),
        (with("cost", json!({"amount": -1, "currency": "USD"})), "/cost/amount"),
        (with("cost", json!({"amount": 1, "currency": "dollars"})), "/cost/currency"),
        (with("seeds", json!({"value": 34_000, "unit": "[in_i]"})), "/seeds"),
        (with("seeds", json!({"value": 34_000_000, "unit": "1/[acr_us]"})), "/seeds"),
        (with("depth", json!({"value": -2, "unit": "[in_i]"})), "/depth"),
        (with("area", json!({"value": 0, "unit": "[acr_us]"})), "/area"),
    ] {
        let answer = app.lead.post(&path, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let strange = format!("/v1/fields/{}/plantings", other.field);
    app.grower.post(&strange, &planting(&stead, "2027-04-20")).await.assert_status(404);
    app.read_only.post(&path, &planting(&stead, "2027-04-20")).await.assert_status(403);
}

#[tokio::test]
async fn a_draft_is_nothing_to_plant_by() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Draft only").await;
    let path = format!("/v1/fields/{}/plantings", stead.field);
    let mut body = planting(&stead, "2027-04-20");
    body["recommendation_id"] = json!(stead.recommendation);
    let answer = app.lead.post(&path, &body).await;
    answer.assert_problem(422, "invalid_request").assert_member("/recommendation_id");
}

#[tokio::test]
async fn more_than_the_field_and_a_second_planting_are_kept_and_said() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/fields/{}/plantings", stead.field);
    let first = planted(&app.lead, &stead, "2027-04-10").await;
    let mut body = planting(&stead, "2027-04-18");
    body["area"] = json!({"value": 52, "unit": "[acr_us]"});
    let made = app.lead.post(&path, &body).await.assert_status(201).json();
    let codes: Vec<&str> = made["notices"]
        .as_array()
        .expect("notices")
        .iter()
        .filter_map(|it| it["code"].as_str())
        .collect();
    assert_eq!(codes, ["area_above_field", "planted_before"]);
    assert_eq!(made["notices"][1]["planting_id"], first.as_str());
    let one = format!("/v1/plantings/{}", made["id"].as_str().expect("id"));
    let change = json!({"area": null});
    let changed = app.lead.patch(&one, "*", &change).await.assert_status(200).json();
    assert_eq!(changed["area_from"], "field");
    assert_eq!(changed["notices"].as_array().expect("notices").len(), 1);
}

#[tokio::test]
async fn changes_need_the_version_and_deleting_waits_for_stand_counts() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = planted(&app.lead, &stead, "2027-03-20").await;
    let path = format!("/v1/plantings/{id}");
    let etag = app.lead.get(&path).await.header("etag").to_owned();
    let change = json!({"hours": 4, "note": "Two days."});
    let without = app.lead.send("PATCH", &path, &[], Some(&change)).await;
    without.assert_problem(428, "precondition_required");
    app.lead.patch(&path, &etag, &change).await.assert_status(200);
    app.lead.patch(&path, &etag, &change).await.assert_problem(412, "stale");
    let counts = format!("/v1/fields/{}/stand-counts", stead.field);
    app.lead.create(&counts, &super::thousandths("2027-04-12", &[31, 30])).await;
    app.lead.delete(&path).await.assert_problem(409, "in_use");
    let other = planted(&app.lead, &stead, "2027-03-21").await;
    app.lead.delete(&format!("/v1/plantings/{other}")).await.assert_status(204);
    app.lead.get(&format!("/v1/plantings/{other}")).await.assert_status(404);
}

#[tokio::test]
async fn lists_narrow_by_what_is_asked() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let april = planted(&app.lead, &stead, "2027-04-10").await;
    let mut beans = planting(&stead, "2027-04-15");
    beans["crop"] = json!("soybean");
    let path = format!("/v1/fields/{}/plantings", stead.field);
    let beans = app.lead.create(&path, &beans).await;
    let ids = async |filter: &str| -> Vec<String> {
        let found =
            app.lead.get(&format!("/v1/plantings?{filter}")).await.assert_status(200).json();
        let items = found["items"].as_array().expect("items").clone();
        items.iter().map(|it| it["id"].as_str().expect("id").to_owned()).collect()
    };
    assert_eq!(ids("crop=soybean").await, [beans.as_str()]);
    assert_eq!(ids("planted_to=2027-04-12").await, [april.as_str()]);
    assert_eq!(ids("planted_from=2027-04-12").await, [beans.as_str()]);
    assert_eq!(ids(&format!("planter_id={}", stead.planter)).await.len(), 2);
    assert_eq!(ids(&format!("field_id={}", stead.farm)).await.len(), 0);
    assert_eq!(ids(&format!("grower_id={}", stead.grower)).await.len(), 2);
    assert_eq!(ids("updated_since=2027-04-20T12:00:00Z").await, [april, beans]);
    assert!(ids("updated_since=2027-04-20T12:00:01Z").await.is_empty());
}
