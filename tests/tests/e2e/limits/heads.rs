//! Heads out of all proportion, and methods that nobody needs.

use tests::TestApp;

use super::raw::{Raw, head};

#[tokio::test]
async fn headers_that_are_too_large_are_431() {
    let app = TestApp::start().await;
    let large = "x".repeat(4000);
    let names: Vec<String> = (0..9).map(|n| format!("x-{n}")).collect();
    let headers: Vec<(&str, &str)> = names.iter().map(|name| (&**name, &*large)).collect();
    let answer = app.lead.send("GET", "/v1/growers", &headers, None).await;
    answer.assert_problem(431, "headers_too_large");
    app.lead.send("GET", "/v1/growers", &headers[..7], None).await.assert_status(200);
}

#[tokio::test]
async fn a_flood_of_headers_is_431_and_the_connection_is_closed() {
    let app = TestApp::start().await;
    let many: String = (0..200).map(|n| format!("x-{n}: x\r\n")).collect();
    let endless = format!("x-a: {}\r\n", "x".repeat(200_000));
    for flood in [many, endless] {
        let mut raw = Raw::connect(&app).await;
        raw.say(&head(&app.lead, "GET /v1/growers", &flood)).await;
        let heard = raw.hear().await;
        assert_eq!(heard.status, Some(431), "{}", heard.text);
        assert!(raw.is_closed().await);
    }
    app.lead.get("/v1/growers").await.assert_status(200);
}

#[tokio::test]
async fn an_address_that_is_too_long_is_414() {
    let app = TestApp::start().await;
    let path = |length: usize| format!("/v1/growers?name={}", "x".repeat(length));
    app.lead.get(&path(9000)).await.assert_problem(414, "address_too_long");
    let refused = app.lead.get(&path(8000)).await.assert_problem(422, "invalid_request");
    refused.assert_member("?name");
    let mut raw = Raw::connect(&app).await;
    raw.say(&head(&app.lead, &format!("GET {}", path(70_000)), "")).await;
    let heard = raw.hear().await;
    assert_eq!(heard.status, Some(400), "the server itself reads no such address: {}", heard.text);
}

#[tokio::test]
async fn what_is_no_http_is_400_and_the_connection_is_closed() {
    let app = TestApp::start().await;
    for text in [
        "nonsense\r\n\r\n",
        "GET / HTTP/9.9\r\n\r\n",
        "GET / HTTP/1.1\r\nno colon\r\n\r\n",
        "POST /v1/growers HTTP/1.1\r\nContent-Length: x\r\n\r\n",
        "POST /v1/growers HTTP/1.1\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\n",
        "POST /v1/growers HTTP/1.1\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n",
    ] {
        let mut raw = Raw::connect(&app).await;
        raw.say(text).await;
        let heard = raw.hear().await;
        assert_eq!(heard.status, Some(400), "{text:?}: {}", heard.text);
        assert!(raw.is_closed().await, "{text:?}");
    }
}

#[tokio::test]
async fn trace_connect_and_methods_unheard_of_are_refused() {
    let app = TestApp::start().await;
    for method in ["TRACE", "BREW"] {
        let secret = [("x-secret", "do not say this back")];
        let answer = app.lead.send_text(method, "/v1/growers", &secret, None).await;
        let answer = answer.assert_problem(405, "method_not_allowed");
        assert_eq!(answer.header("allow"), "GET, HEAD, POST", "{method}");
        assert!(!answer.text.contains("do not say"), "{method}");
    }
    // It asks for a tunnel to another host, so there is no path that it could be wrong for.
    let answer = app.lead.send_text("CONNECT", "/v1/growers", &[], None).await;
    answer.assert_problem(404, "unknown_path");
}
