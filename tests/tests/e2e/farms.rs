//! Farms.

use serde_json::json;
use tests::{Farmstead, TestApp};

#[tokio::test]
async fn a_farm_belongs_to_a_grower() {
    let app = TestApp::start().await;
    let body = json!({"grower_id": app.own_grower_id, "name": "Home farm"});
    let made = app.advisor.post("/v1/farms", &body).await.assert_status(201);
    let path = format!("/v1/farms/{}", made.id());
    assert_eq!(made.header("location"), path);
    assert_eq!(app.grower.get(&path).await.assert_status(200).json(), made.json());
    app.advisor.post("/v1/farms", &body).await.assert_problem(409, "already_exists");
    let renamed = app.advisor.patch(&path, "\"1\"", &json!({"name": "River farm"})).await;
    assert_eq!(renamed.assert_status(200).json()["name"], "River farm");
    let nowhere = json!({"grower_id": made.id(), "name": "A"});
    let answer = app.advisor.post("/v1/farms", &nowhere).await;
    answer.assert_problem(422, "invalid_request").assert_member("/grower_id");
}

#[tokio::test]
async fn a_farm_of_another_practice_can_not_be_referred_to() {
    let app = TestApp::start().await;
    let theirs = Farmstead::make(&app.stranger, "Their grower").await;
    let body = json!({"grower_id": theirs.grower, "name": "Mine now"});
    let answer = app.lead.post("/v1/farms", &body).await;
    answer.assert_problem(422, "invalid_request").assert_member("/grower_id");
    let body = json!({"farm_id": theirs.farm, "name": "Mine now"});
    let answer = app.lead.post("/v1/fields", &body).await;
    answer.assert_problem(422, "invalid_request").assert_member("/farm_id");
}

#[tokio::test]
async fn the_list_can_be_narrowed_to_a_grower() {
    let app = TestApp::start().await;
    let own = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let other = Farmstead::make(&app.lead, "A neighbour").await;
    let ids = |items: &serde_json::Value| -> Vec<String> {
        let items = items["items"].as_array().expect("items");
        items.iter().map(|item| item["id"].as_str().expect("id").to_owned()).collect()
    };
    let all = app.lead.get("/v1/farms").await.json();
    assert_eq!(ids(&all), [own.farm.clone(), other.farm.clone()]);
    let one = app.lead.get(&format!("/v1/farms?grower_id={}", other.grower)).await.json();
    assert_eq!(ids(&one), std::slice::from_ref(&other.farm));
    assert_eq!(ids(&app.grower.get("/v1/farms").await.json()), std::slice::from_ref(&own.farm));
    assert_eq!(ids(&app.grower.get("/v1/fields").await.json()), std::slice::from_ref(&own.field));
    assert_eq!(
        ids(&app.grower.get("/v1/planters").await.json()),
        std::slice::from_ref(&own.planter)
    );
    for path in [
        format!("/v1/farms/{}", other.farm),
        format!("/v1/fields/{}", other.field),
        format!("/v1/planters/{}", other.planter),
        format!("/v1/planters/{}/calibrations", other.planter),
        format!("/v1/planters/{}/calibrations/newest", other.planter),
    ] {
        app.grower.get(&path).await.assert_problem(404, "not_found");
    }
}
