//! Callers who can't read what the service answers.

use serde_json::json;
use tests::{Farmstead, TestApp};

#[tokio::test]
async fn a_form_that_is_not_to_be_had_is_406_and_nothing_is_written() {
    let app = TestApp::start().await;
    for accept in ["text/html", "application/xml", "application/json;q=0"] {
        let headers = [("accept", accept)];
        let path = format!("/v1/growers/{}", app.own_grower_id);
        let answer = app.lead.send("GET", &path, &headers, None).await;
        answer.assert_problem(406, "not_acceptable");
        let body = json!({"name": "Unread"});
        let answer = app.lead.send("POST", "/v1/growers", &headers, Some(&body)).await;
        answer.assert_problem(406, "not_acceptable");
    }
    let page = app.lead.get("/v1/growers").await.assert_status(200).json();
    assert_eq!(page["items"].as_array().map(Vec::len), Some(1));
}

#[tokio::test]
async fn whoever_takes_anything_or_problems_is_served() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    for accept in ["*/*", "application/*", "application/problem+json", "text/html, */*;q=0.1"] {
        app.lead.send("GET", &path, &[("accept", accept)], None).await.assert_status(200);
    }
}

#[tokio::test]
async fn a_sheet_of_paper_is_html_and_nothing_else() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "A grower").await;
    let path = format!("/v1/recommendations/{}/sheet", stead.recommendation);
    let html = app.lead.send("GET", &path, &[("accept", "text/html")], None).await;
    assert!(html.assert_status(200).header("content-type").starts_with("text/html"));
    let answer = app.lead.send("GET", &path, &[("accept", "application/json")], None).await;
    answer.assert_problem(406, "not_acceptable");
}
