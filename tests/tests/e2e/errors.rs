//! Every error of the framework is a problem like any other.

use serde_json::json;
use tests::TestApp;

const JSON: (&str, &str) = ("content-type", "application/json");

#[tokio::test]
async fn an_unknown_path_is_404() {
    let app = TestApp::start().await;
    for path in ["/", "/v1", "/v1/nowhere", "/v1/growers/", "/v2/growers"] {
        app.lead.get(path).await.assert_problem(404, "unknown_path");
    }
}

#[tokio::test]
async fn a_wrong_method_is_405_and_says_what_is_allowed() {
    let app = TestApp::start().await;
    let id = &app.own_grower_id;
    for (method, path, allowed) in [
        ("DELETE", "/v1/growers".to_owned(), "GET, HEAD, POST"),
        ("PUT", format!("/v1/growers/{id}"), "GET, HEAD, PATCH, DELETE"),
        ("POST", "/health/live".to_owned(), "GET, HEAD"),
        ("OPTIONS", "/v1/sessions/refresh".to_owned(), "POST"),
        ("POST", "/openapi.json".to_owned(), "GET, HEAD"),
    ] {
        let answer = app.lead.send(method, &path, &[], None).await;
        let answer = answer.assert_problem(405, "method_not_allowed");
        assert_eq!(answer.header("allow"), allowed, "{method} {path}");
    }
}

#[tokio::test]
async fn head_answers_like_get_without_a_body() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    let get = app.lead.get(&path).await.assert_status(200);
    let head = app.lead.send("HEAD", &path, &[], None).await.assert_status(200);
    assert_eq!(head.text, "");
    assert_eq!(head.header("etag"), get.header("etag"));
}

#[tokio::test]
async fn broken_json_is_400() {
    let app = TestApp::start().await;
    for body in ["", "{", "{\"name\": \"A\"", "{\"name\": \"A\"} more", "\u{1}"] {
        let answer =
            app.lead.send_text("POST", "/v1/growers", &[JSON], Some(body.to_owned())).await;
        answer.assert_problem(400, "malformed_json");
    }
}

#[tokio::test]
async fn a_body_of_another_type_is_415() {
    let app = TestApp::start().await;
    let body = || Some("{\"name\": \"A\"}".to_owned());
    for headers in [&[("content-type", "text/plain")][..], &[]] {
        let answer = app.lead.send_text("POST", "/v1/growers", headers, body()).await;
        let answer = answer.assert_problem(415, "unsupported_media_type");
        assert_eq!(answer.header("accept"), "application/json");
    }
    let charset = [("content-type", "application/json; charset=utf-8")];
    app.lead.send_text("POST", "/v1/growers", &charset, body()).await.assert_status(201);
}

#[tokio::test]
async fn too_large_a_body_is_413() {
    let app = TestApp::start_with(|settings| settings.body_limit = 2048).await;
    let fits = json!({"name": "A", "notes": "x".repeat(1900)});
    app.lead.post("/v1/growers", &fits).await.assert_status(201);
    let large = json!({"name": "B", "notes": "x".repeat(2100)});
    app.lead.post("/v1/growers", &large).await.assert_problem(413, "body_too_large");
}

#[tokio::test]
async fn an_unknown_member_or_parameter_is_refused_by_name() {
    let app = TestApp::start().await;
    let answer = app.lead.post("/v1/growers", &json!({"name": "A", "nmae": "B"})).await;
    let entry = answer.assert_problem(422, "invalid_request").assert_member("/nmae");
    assert!(entry["allowed"].as_str().is_some_and(|list| list.contains("name")), "{entry}");
    let answer = app.lead.get("/v1/growers?limti=3").await;
    answer.assert_problem(422, "invalid_request").assert_member("?limti");
}

#[tokio::test]
async fn a_member_of_the_wrong_type_or_missing_is_named() {
    let app = TestApp::start().await;
    for (body, pointer) in [
        (json!({}), "/name"),
        (json!({"name": 7}), "/name"),
        (json!({"name": null}), "/name"),
        (json!({"name": "A", "phone": null}), "/phone"),
        (json!({"name": "A", "advisor_id": "x"}), "/advisor_id"),
        (json!(["A"]), ""),
    ] {
        let answer = app.lead.post("/v1/growers", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn an_id_that_is_no_uuid_names_nothing() {
    let app = TestApp::start().await;
    for id in ["7", "me", "01964f1e6a0070008000000000000001"] {
        app.lead.get(&format!("/v1/growers/{id}")).await.assert_problem(404, "not_found");
    }
}

#[tokio::test]
async fn a_token_is_needed_and_must_be_ours() {
    let app = TestApp::start().await;
    let missing = app.nobody.get("/v1/growers").await.assert_problem(401, "unauthenticated");
    assert_eq!(missing.header("www-authenticate"), "Bearer");
    let good = app.lead.token.clone().expect("token");
    let cut = &good[..good.len() - 2];
    for token in ["x", "a.b.c", cut, ""] {
        let user = app.nobody.with_token(token);
        user.get("/v1/growers").await.assert_problem(401, "unauthenticated");
    }
    let basic =
        app.nobody.send("GET", "/v1/growers", &[("authorization", "Basic YTpi")], None).await;
    basic.assert_problem(401, "unauthenticated");
}

#[tokio::test]
async fn a_token_expires() {
    let app = TestApp::start().await;
    app.clock.advance(chrono::TimeDelta::seconds(43_200));
    app.lead.get("/v1/growers").await.assert_status(200);
    app.clock.advance(chrono::TimeDelta::seconds(31));
    app.lead.get("/v1/growers").await.assert_problem(401, "unauthenticated");
}
