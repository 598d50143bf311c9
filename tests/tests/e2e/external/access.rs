//! Who may.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{at, only, put, upstream};

#[tokio::test]
async fn records_come_from_records_systems_and_the_lead() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let body = json!({"grower": "G-1", "name": "Home"});
    let path = at("farms/A-1");
    for user in [&app.advisor, &app.grower, &app.read_only] {
        user.send("PUT", &path, &[], Some(&body)).await.assert_problem(403, "forbidden");
        user.delete(&path).await.assert_problem(403, "forbidden");
        user.post(&at("batch"), &json!({})).await.assert_problem(403, "forbidden");
    }
    app.nobody.get(&path).await.assert_problem(401, "unauthenticated");
    app.lead.send("PUT", &path, &[], Some(&body)).await.assert_status(200);
    // Another practice has its own ids.
    app.stranger.get(&path).await.assert_problem(404, "not_found");
    app.stranger.delete(&path).await.assert_problem(404, "not_found");
    app.stranger.send("PUT", &path, &[], Some(&body)).await.assert_problem(422, "invalid_request");
    let theirs = app.stranger.get("/v1/external/records").await.assert_status(200).json();
    assert_eq!(theirs["items"], json!([]));
    let other = app.lead.get(&path.replace("records", "other-records")).await;
    other.assert_problem(404, "not_found");
}

#[tokio::test]
async fn a_grower_sees_only_ids_of_his_own() {
    let app = TestApp::start().await;
    upstream(&app).await;
    app.grower.get(&at("farms/A-1")).await.assert_problem(404, "not_found");
    let own = json!({"grower_id": app.own_grower_id, "name": "Own farm"});
    put(&app, "farms/A-7", &own).await.assert_status(201);
    app.grower.get(&at("farms/A-7")).await.assert_status(200);
    for list in ["/v1/external/records", "/v1/external-ids"] {
        let seen = app.grower.get(list).await.assert_status(200).json();
        let ids: Vec<_> =
            seen["items"].as_array().expect("ids").iter().map(|it| &it["their_id"]).collect();
        assert_eq!(ids, ["A-7"], "{seen}");
    }
}

#[tokio::test]
async fn who_keeps_the_object_decides_within_his_scope() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let settings = json!({"advisors_see": "assigned"});
    app.lead
        .send("PATCH", "/v1/practice", &[("if-match", "*")], Some(&settings))
        .await
        .assert_status(200);
    put(&app, "growers/G-1", &json!({"name": "miller brothers"}))
        .await
        .assert_problem(409, "decision_needed");
    let list = "/v1/record-matches";
    let waiting = only(&app, list).await;
    let path = format!("{list}/{}", waiting["id"].as_str().expect("an id"));
    let decision = format!("{path}/decision");
    let same = json!({"decision": "same", "object_id": stead.grower});
    let any = [("if-match", "*")];
    assert_eq!(app.advisor.get(list).await.assert_status(200).json()["items"], json!([]));
    app.advisor.get(&path).await.assert_problem(404, "not_found");
    app.advisor.send("POST", &decision, &any, Some(&same)).await.assert_problem(404, "not_found");
    app.stranger.send("POST", &decision, &any, Some(&same)).await.assert_problem(404, "not_found");
    for user in [&app.grower, &app.read_only] {
        user.get(list).await.assert_problem(403, "forbidden");
        user.send("POST", &decision, &any, Some(&same)).await.assert_problem(403, "forbidden");
    }
    let own = json!({"advisor_id": app.advisor.account_id});
    app.lead.patch(&format!("/v1/growers/{}", stead.grower), "*", &own).await.assert_status(200);
    app.advisor.get(&path).await.assert_status(200);
    app.advisor.send("POST", &decision, &any, Some(&same)).await.assert_status(200);
}
