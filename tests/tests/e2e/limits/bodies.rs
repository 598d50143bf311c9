//! Bodies that mean harm: packed, deep, wide, or saying two things at once.

use serde_json::json;
use tests::{Answer, TestApp};

const JSON: (&str, &str) = ("content-type", "application/json");

async fn send(app: &TestApp, body: String) -> Answer {
    app.lead.send_text("POST", "/v1/growers", &[JSON], Some(body)).await
}

async fn assert_nothing_written(app: &TestApp) {
    let page = app.lead.get("/v1/growers").await.assert_status(200).json();
    assert_eq!(page["items"].as_array().map(Vec::len), Some(1), "{page}");
}

#[tokio::test]
async fn each_bomb_is_refused_at_its_place() {
    let app = TestApp::start().await;
    let deep = format!("{}{}", "[".repeat(5000), "]".repeat(5000));
    let long = format!("[{}0]", "0,".repeat(10_000));
    let text = "x".repeat(100_001);
    let digits = "9".repeat(100_000);
    for (value, pointer) in [
        (deep, format!("/notes{}", "/0".repeat(31))),
        (long, "/notes".to_owned()),
        (format!("\"{text}\""), "/notes".to_owned()),
        ("1e999".to_owned(), "/notes".to_owned()),
        (digits, "/notes".to_owned()),
        ("{\"a\": 1, \"b\": {\"c\": 1, \"c\": 2}}".to_owned(), "/notes/b/c".to_owned()),
    ] {
        let body = format!("{{\"name\": \"A bomb\", \"notes\": {value}}}");
        let answer = send(&app, body).await.assert_problem(422, "invalid_request");
        let entry = answer.assert_member(&pointer);
        assert!(entry["allowed"].is_string(), "{entry}");
        assert!(answer.text.len() < 2000, "what was sent is not said back");
    }
    assert_nothing_written(&app).await;
}

#[tokio::test]
async fn a_member_given_twice_is_refused_even_with_the_same_value() {
    let app = TestApp::start().await;
    let answer = send(&app, "{\"name\": \"A\", \"name\": \"A\"}".to_owned()).await;
    answer.assert_problem(422, "invalid_request").assert_member("/name");
    let answer = send(&app, "{\"name\": \"A\", \"n\\u0061me\": \"B\"}".to_owned()).await;
    answer.assert_problem(422, "invalid_request").assert_member("/name");
    assert_nothing_written(&app).await;
}

#[tokio::test]
async fn a_packed_body_is_415_whatever_is_in_it() {
    let app = TestApp::start().await;
    let body = json!({"name": "Packed"});
    for coding in ["gzip", "br", "deflate", "zstd", "identity, gzip"] {
        let headers = [("content-encoding", coding)];
        let answer = app.lead.send("POST", "/v1/growers", &headers, Some(&body)).await;
        let answer = answer.assert_problem(415, "unsupported_encoding");
        assert_eq!(answer.header("accept-encoding"), "identity");
    }
    assert_nothing_written(&app).await;
    let plain = [("content-encoding", "identity")];
    app.lead.send("POST", "/v1/growers", &plain, Some(&body)).await.assert_status(201);
}
