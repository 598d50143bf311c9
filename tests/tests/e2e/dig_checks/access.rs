//! Who may send and read a dig check, behind what.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{dig_at, digs, stored};

#[tokio::test]
async fn nothing_is_dug_behind_a_draft() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let refused = app.advisor.post(&digs(&stead), &dig_at(0)).await;
    let refused = refused.assert_problem(409, "wrong_state").json();
    let detail = refused["detail"].as_str().expect("words");
    assert!(detail.contains("draft: nobody has set a planter by it"), "{detail}");
    app.grower.post(&digs(&stead), &dig_at(0)).await.assert_problem(404, "not_found");
    stead.issue(&app.lead).await;
    app.grower.post(&digs(&stead), &dig_at(0)).await.assert_status(201);
    let sheet = format!("/v1/recommendations/{}", stead.recommendation);
    let acknowledge = format!("{sheet}/acknowledge");
    let seen = app.grower.send("POST", &acknowledge, &[("if-match", "*")], None).await;
    seen.assert_status(200);
    app.grower.post(&digs(&stead), &dig_at(1)).await.assert_status(201);

    let next = app.lead.create(&format!("{sheet}/revise"), &json!({})).await;
    app.grower.post(&digs(&stead), &dig_at(2)).await.assert_status(201);
    let next = Farmstead { recommendation: next, ..stead.clone() };
    app.advisor.post(&digs(&next), &dig_at(3)).await.assert_problem(409, "wrong_state");
    assert_eq!(stored(&app).await.0, 3);
}

#[tokio::test]
async fn a_grower_digs_and_reads_only_his_own() {
    let app = TestApp::start().await;
    let neighbour = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let theirs = Farmstead::of_grower(&app.lead, &neighbour).await.with_sheet(&app.lead).await;
    let body = Farmstead::dig_body();
    app.grower.post(&digs(&theirs), &body).await.assert_problem(404, "not_found");
    let dig = app.advisor.create(&digs(&theirs), &body).await;
    for path in [format!("/v1/dig-checks/{dig}"), digs(&theirs)] {
        app.grower.get(&path).await.assert_problem(404, "not_found");
        app.stranger.get(&path).await.assert_problem(404, "not_found");
        app.read_only.get(&path).await.assert_status(200);
    }
    app.read_only.post(&digs(&theirs), &body).await.assert_problem(403, "forbidden");
}
