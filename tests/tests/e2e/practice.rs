//! The practice and what its advisors see.

use api::auth::role::Role;
use serde_json::json;
use tests::{Farmstead, TestApp};

#[tokio::test]
async fn everybody_reads_the_practice_and_the_lead_changes_it_by_version() {
    let app = TestApp::start().await;
    for user in [&app.lead, &app.advisor, &app.grower, &app.records_system, &app.read_only] {
        let practice = user.get("/v1/practice").await.assert_status(200);
        assert_eq!(practice.header("etag"), "\"1\"");
        assert_eq!(practice.json()["advisors_see"], "all");
        assert_eq!(practice.json()["name"], "Prairie Advisors");
    }
    let assigned = json!({"advisors_see": "assigned"});
    app.lead
        .send("PATCH", "/v1/practice", &[], Some(&assigned))
        .await
        .assert_problem(428, "precondition_required");
    app.advisor.patch("/v1/practice", "*", &assigned).await.assert_problem(403, "forbidden");
    let changed = app.lead.patch("/v1/practice", "\"1\"", &assigned).await.assert_status(200);
    assert_eq!(changed.json()["advisors_see"], "assigned");
    assert_eq!(changed.header("etag"), "\"2\"");
    app.lead.patch("/v1/practice", "\"1\"", &assigned).await.assert_problem(412, "stale");
    let nothing = json!({"advisors_see": "none"});
    let refused = app.lead.patch("/v1/practice", "\"2\"", &nothing).await;
    refused.assert_problem(422, "invalid_request").assert_member("/advisors_see");
    assert_eq!(app.stranger.get("/v1/practice").await.json()["advisors_see"], "all");
}

#[tokio::test]
async fn the_setting_holds_from_the_next_request_on_and_back() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    app.advisor.get(&path).await.assert_status(200);
    let see = |what: &str| json!({"advisors_see": what});
    app.lead.patch("/v1/practice", "*", &see("assigned")).await.assert_status(200);
    app.advisor.get(&path).await.assert_problem(404, "not_found");
    let list = app.advisor.get("/v1/growers").await.json();
    assert_eq!(list["items"], json!([]));
    for user in [&app.lead, &app.records_system, &app.read_only, &app.grower] {
        user.get(&path).await.assert_status(200);
    }
    let his = json!({"advisor_id": app.advisor.account_id});
    app.lead.patch(&path, "*", &his).await.assert_status(200);
    app.advisor.get(&path).await.assert_status(200);
    let nobodys = json!({"advisor_id": null});
    app.lead.patch(&path, "*", &nobodys).await.assert_status(200);
    app.advisor.get(&path).await.assert_problem(404, "not_found");
    app.lead.patch("/v1/practice", "*", &see("all")).await.assert_status(200);
    app.advisor.get(&path).await.assert_status(200);
}

#[tokio::test]
async fn a_grower_that_an_advisor_adds_is_his_and_he_may_hand_him_on() {
    let app = TestApp::start().await;
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
    let made = app.advisor.post("/v1/growers", &json!({"name": "A"})).await.assert_status(201);
    assert_eq!(made.json()["advisor_id"], app.advisor.account_id);
    let others = json!({"name": "B", "advisor_id": colleague.account_id});
    let refused = app.advisor.post("/v1/growers", &others).await;
    refused.assert_problem(422, "invalid_request").assert_member("/advisor_id");
    app.lead.post("/v1/growers", &others).await.assert_status(201);
    let path = format!("/v1/growers/{}", made.id());
    let hand_on = json!({"advisor_id": colleague.account_id});
    app.advisor.patch(&path, "*", &hand_on).await.assert_status(200);
    app.advisor.get(&path).await.assert_problem(404, "not_found");
    colleague.get(&path).await.assert_status(200);
    let reader = json!({"advisor_id": app.read_only.account_id});
    let refused = colleague.patch(&path, "*", &reader).await;
    refused.assert_problem(422, "invalid_request").assert_member("/advisor_id");
}

#[tokio::test]
async fn what_the_practice_learned_counts_for_all_and_names_no_other_grower() {
    let app = TestApp::start().await;
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
    let grower = colleague.create("/v1/growers", &json!({"name": "Secretive"})).await;
    let theirs = Farmstead::of_grower(&colleague, &grower).await.with_sheet(&colleague).await;
    theirs.with_dig(&colleague).await;
    let own = app.advisor.create("/v1/growers", &json!({"name": "Own"})).await;
    let own = Farmstead::of_grower(&app.advisor, &own).await.with_sheet(&app.advisor).await;
    let own = own.with_dig(&app.advisor).await;
    let path = format!("/v1/planters/{}/resistance", own.planter);
    let known = app.advisor.get(&path).await.assert_status(200);
    let digs = &known.json()["classes"][0]["digs"];
    assert_eq!(digs["planter"], 1);
    assert_eq!(digs["soil_and_cover"], 2, "the colleague's dig counts: {digs}");
    for path in [
        path,
        format!("/v1/planters/{}/seed-order", own.planter),
        format!("/v1/fields/{}/resistance", own.field),
        format!("/v1/fields/{}/timeline", own.field),
        format!("/v1/recommendations/{}", own.recommendation),
    ] {
        let text = app.advisor.get(&path).await.assert_status(200).text;
        assert!(!text.contains(&grower) && !text.contains("Secretive"), "{path}: {text}");
    }
}
