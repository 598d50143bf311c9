//! A design becomes a layout.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{id, in_strips, on_rows, running};

#[tokio::test]
async fn a_seed_gives_the_same_layout_and_no_treatment_has_only_outer_or_tyre_rows() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let made = app.advisor.post("/v1/trials", &on_rows(&stead)).await.assert_status(201);
    let trial = made.json();
    assert_eq!(made.header("location"), format!("/v1/trials/{}", id(&trial)));
    assert_eq!(made.header("etag"), "\"1\"");
    assert_eq!((&trial["status"], &trial["layout"]["seed"]), (&json!("draft"), &json!(2027)));
    assert_eq!(trial["layout"]["tyre_rows"], json!([3, 6]));
    let again = app.advisor.post("/v1/trials", &on_rows(&stead)).await.json();
    assert_eq!(again["layout"], trial["layout"]);
    let plots = trial["layout"]["plots"].as_array().expect("plots");
    assert_eq!(plots.len(), 10);
    for block in plots.chunks(2) {
        let rows: BTreeSet<u64> = block
            .iter()
            .flat_map(|it| it["rows"].as_array().expect("rows"))
            .map(|row| row.as_u64().expect("a row"))
            .collect();
        assert_eq!(rows, BTreeSet::from([2, 4, 5, 7]), "off the ends and the tyre tracks");
        assert_ne!(block[0]["treatment"], block[1]["treatment"]);
    }
    // Noncentral t of five pairs at 5 %, standardised difference 3 / (2.5 sqrt 2): 0.308743 by scipy.
    let power = &trial["replications"][0];
    let chance = power["chance"].as_f64().expect("a chance");
    assert!((chance - 30.8743).abs() < 1e-3, "{power}");
    assert!(power["blocks_needed"].as_u64().is_some_and(|it| it > 5), "{power}");
    // Drawn by us, the seed is told, and keeps giving the same.
    let mut open = on_rows(&stead);
    open["design"].as_object_mut().expect("a design").remove("seed");
    let drawn = app.advisor.post("/v1/trials", &open).await.assert_status(201).json();
    open["design"]["seed"] = drawn["layout"]["seed"].clone();
    let same = app.advisor.post("/v1/trials", &open).await.assert_status(201).json();
    assert_eq!(same["layout"], drawn["layout"]);
}

#[tokio::test]
async fn what_can_not_be_laid_out_is_named() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    for (change, member) in [
        (
            json!({"treatments": [{"name": "a", "rows": [1, 8]}, {"name": "b", "rows": [2, 4]}]}),
            "/design/treatments/0/rows",
        ),
        (
            json!({"treatments": [{"name": "a", "rows": [3, 6]}, {"name": "b", "rows": [2, 4]}]}),
            "/design/treatments/0/rows",
        ),
        (
            json!({"treatments": [{"name": "a", "rows": [2, 9]}, {"name": "b", "rows": [4, 5]}]}),
            "/design/treatments/0/rows/1",
        ),
        (
            json!({"treatments": [{"name": "a", "rows": [2]}, {"name": "b", "rows": [2]}]}),
            "/design/treatments/1/rows/0",
        ),
        (json!({"treatments": [{"name": "a"}, {"name": "A"}]}), "/design/treatments/1/name"),
        (json!({"treatments": [{"name": "a"}]}), "/design/treatments"),
        (json!({"blocks": 0}), "/design/blocks"),
        (json!({"blocks": 13}), "/design/blocks"),
        (json!({"samples": 0}), "/design/samples"),
        (json!({"way": {"kind": "planter_rows", "rows_each": 9}}), "/design/way"),
        (json!({"way": {"kind": "strips", "passes_each": 1}}), "/design/strip_length"),
        (json!({"trying": "speed"}), "/design/way"),
        (json!({"order": "as_listed"}), "/design/seed"),
        (json!({"responses": []}), "/design/responses"),
        (
            json!({"responses": [{"kind": "emergence", "matters": -1}]}),
            "/design/responses/0/matters",
        ),
        (
            json!({"responses": [{"kind": "emergence", "unit": "[in_i]"}]}),
            "/design/responses/0/unit",
        ),
        (json!({"responses": [{"kind": "other", "key": "days"}]}), "/design/responses/0/name"),
        (json!({"responses": [{"kind": "yield"}, {"kind": "yield"}]}), "/design/responses/1"),
        (json!({"responses": [{"kind": "yield"}], "harvest_rows": 6}), "/design/harvest_rows"),
    ] {
        let mut body = on_rows(&stead);
        for (name, value) in change.as_object().expect("members") {
            body["design"][name] = value.clone();
        }
        let answer = app.advisor.post("/v1/trials", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(member);
    }
    let mut wide = in_strips(&stead, 4);
    wide["design"]["harvest_rows"] = json!(8);
    let answer = app.advisor.post("/v1/trials", &wide).await;
    answer.assert_problem(422, "invalid_request").assert_member("/design/harvest_rows");
    let other = Farmstead::make(&app.lead, "A neighbour").await;
    let mut theirs = on_rows(&stead);
    theirs["planter_id"] = json!(other.planter);
    let answer = app.advisor.post("/v1/trials", &theirs).await;
    answer.assert_problem(422, "invalid_request").assert_member("/planter_id");
}

#[tokio::test]
async fn few_blocks_short_strips_and_no_chance_are_said_with_their_source() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut body = in_strips(&stead, 2);
    body["design"]["strip_length"] = json!({"value": 60, "unit": "m"});
    body["design"]["order"] = json!("as_listed");
    body["design"].as_object_mut().expect("a design").remove("seed");
    let trial = app.advisor.post("/v1/trials", &body).await.assert_status(201).json();
    let said = trial["layout"]["notices"].to_string();
    for words in
        ["2 blocks are few: 4 are recommended", "197 ft are short", "chance did not decide"]
    {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(said.contains("Wuest et al. 1994"), "{said}");
    assert_eq!(trial["layout"]["randomised"], false);
    assert!(trial["layout"].get("seed").is_none());
}

#[tokio::test]
async fn a_draft_can_be_changed_and_what_was_started_can_not() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let made = app.advisor.post("/v1/trials", &on_rows(&stead)).await.assert_status(201).json();
    let path = format!("/v1/trials/{}", id(&made));
    app.grower.get(&path).await.assert_problem(404, "not_found");
    let mut design = on_rows(&stead)["design"].clone();
    design["blocks"] = json!(6);
    design.as_object_mut().expect("a design").remove("seed");
    let change = json!({"design": design, "name": "Six blocks"});
    app.advisor.patch(&path, "\"9\"", &change).await.assert_problem(412, "stale");
    let changed = app.advisor.patch(&path, "\"1\"", &change).await.assert_status(200);
    assert_eq!(changed.header("etag"), "\"2\"");
    let changed = changed.json();
    assert_eq!(changed["layout"]["plots"].as_array().expect("plots").len(), 12);
    assert_eq!(changed["layout"]["seed"], 2027, "the seed stays");
    assert_eq!(changed["name"], "Six blocks");
    let start = format!("{path}/start");
    app.advisor.send("POST", &start, &[], None).await.assert_problem(428, "precondition_required");
    let started = app.advisor.send("POST", &start, &[("if-match", "\"2\"")], None).await;
    let started = started.assert_status(200).json();
    assert_eq!((&started["status"], &started["version"]), (&json!("running"), &json!(3)));
    assert_eq!(app.grower.get(&path).await.assert_status(200).json(), started);
    app.advisor.patch(&path, "*", &change).await.assert_problem(409, "wrong_state");
    app.advisor.delete(&path).await.assert_problem(409, "wrong_state");
    app.advisor
        .send("POST", &start, &[("if-match", "*")], None)
        .await
        .assert_problem(409, "wrong_state");
    let close = format!("{path}/close");
    let closed = app.advisor.send("POST", &close, &[("if-match", "\"3\"")], None).await;
    assert_eq!(closed.assert_status(200).json()["status"], "closed");
    let plots = format!("{path}/plots");
    let late = super::reading(1, "emergence", "%", &[90.0]);
    app.grower.post(&plots, &late).await.assert_problem(409, "wrong_state");
    let draft = app.advisor.post("/v1/trials", &on_rows(&stead)).await.id();
    app.advisor.delete(&format!("/v1/trials/{draft}")).await.assert_status(204);
}

#[tokio::test]
async fn a_grower_sees_his_own_and_designs_none() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let other = Farmstead::make(&app.lead, "A neighbour").await;
    let own = running(&app.lead, &on_rows(&stead)).await;
    let theirs = running(&app.lead, &on_rows(&other)).await;
    app.lead.post("/v1/trials", &on_rows(&stead)).await.assert_status(201);
    let ids = |page: &Value| -> Vec<String> {
        page["items"].as_array().expect("items").iter().map(|it| id(it).to_owned()).collect()
    };
    assert_eq!(ids(&app.grower.get("/v1/trials").await.json()), [id(&own)]);
    assert_eq!(
        ids(&app.lead.get("/v1/trials?status=running").await.json()),
        [id(&own), id(&theirs)]
    );
    let filter = format!("/v1/trials?grower_id={}", other.grower);
    assert_eq!(ids(&app.lead.get(&filter).await.json()), [id(&theirs)]);
    app.grower.post("/v1/trials", &on_rows(&stead)).await.assert_problem(403, "forbidden");
    app.grower
        .get(&format!("/v1/trials/{}/analysis", id(&theirs)))
        .await
        .assert_problem(404, "not_found");
    app.stranger
        .get(&format!("/v1/trials/{}/map", id(&own)))
        .await
        .assert_problem(404, "not_found");
}
