//! Health, the document and its pages, and what the problems mean.

use tests::TestApp;

#[tokio::test]
async fn the_service_lives_and_is_ready() {
    let app = TestApp::start().await;
    for path in ["/health/live", "/health/ready"] {
        let answer = app.nobody.get(path).await.assert_status(200);
        assert_eq!(answer.json()["status"], "pass");
        assert_eq!(answer.header("cache-control"), "no-store");
    }
    app.stop().await;
}

#[tokio::test]
async fn every_answer_carries_a_request_id_and_safe_headers() {
    let app = TestApp::start().await;
    let given = app.nobody.send("GET", "/health/live", &[("x-request-id", "my-1.a_B")], None).await;
    assert_eq!(given.header("x-request-id"), "my-1.a_B");
    let forged = app.nobody.send("GET", "/health/live", &[("x-request-id", "a b")], None).await;
    assert_eq!(forged.header("x-request-id").len(), 36);
    for path in ["/health/live", "/nowhere", "/openapi.json", "/docs/"] {
        let answer = app.nobody.get(path).await;
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{path}");
        assert_eq!(answer.header("x-frame-options"), "DENY", "{path}");
        assert_eq!(answer.header("referrer-policy"), "no-referrer", "{path}");
        assert!(answer.header("content-security-policy").contains("default-src"), "{path}");
    }
}

#[tokio::test]
async fn the_document_is_served_as_it_is_generated() {
    let app = TestApp::start().await;
    let served = app.nobody.get("/openapi.json").await.assert_status(200);
    assert_eq!(served.header("content-type"), "application/json");
    let generated: serde_json::Value =
        serde_json::from_str(&api::routes::committed_form().expect("document")).expect("json");
    assert_eq!(served.json(), generated);
}

#[tokio::test]
async fn the_docs_need_nothing_from_outside() {
    let app = TestApp::start().await;
    let short = app.nobody.get("/docs").await.assert_status(308);
    assert_eq!(short.header("location"), "/docs/");
    let page = app.nobody.get("/docs/").await.assert_status(200);
    assert!(page.header("content-type").starts_with("text/html"));
    assert!(!page.text.contains("https://"), "the page loads from elsewhere: {}", page.text);
    for file in ["swagger-ui-bundle.js", "swagger-ui.css", "swagger-initializer.js"] {
        let answer = app.nobody.get(&format!("/docs/{file}")).await.assert_status(200);
        assert!(!answer.text.is_empty(), "{file}");
    }
    let setup = app.nobody.get("/docs/swagger-initializer.js").await;
    assert!(setup.text.contains("/openapi.json"), "{}", setup.text);
}

#[tokio::test]
async fn the_type_of_a_problem_leads_to_its_meaning() {
    let app = TestApp::start().await;
    let problem = app.nobody.get("/v1/growers").await.assert_problem(401, "unauthenticated").json();
    let path = problem["type"].as_str().expect("type");
    let meaning = app.nobody.get(path).await.assert_status(200).json();
    assert_eq!(meaning["code"], "unauthenticated");
    assert_eq!(meaning["status"], 401);
    assert_eq!(meaning["title"], problem["title"]);
    app.nobody.get("/problems/no_such").await.assert_problem(404, "not_found");
}
