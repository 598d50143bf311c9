//! Web pages of other origins.

use tests::{Answer, TestApp, User};

const OURS: &str = "https://app.example.org";
const THEIRS: &str = "https://elsewhere.example";
const ALLOWED: &str = "access-control-allow-origin";

async fn open() -> TestApp {
    TestApp::start_with(|settings| {
        settings.cors_origins = vec![OURS.parse().expect("an origin")];
        settings.limits.reads_per_minute = 3;
    })
    .await
}

async fn preflight(app: &TestApp, origin: &str, method: &str, headers: &str) -> Answer {
    let asked = [
        ("origin", origin),
        ("access-control-request-method", method),
        ("access-control-request-headers", headers),
    ];
    app.nobody.send("OPTIONS", "/v1/growers", &asked, None).await
}

async fn get(user: &User, origin: &str) -> Answer {
    user.send("GET", "/v1/growers", &[("origin", origin)], None).await
}

#[tokio::test]
async fn without_a_setting_no_page_is_let_in() {
    let app = TestApp::start().await;
    let answer = preflight(&app, OURS, "GET", "authorization").await;
    let answer = answer.assert_problem(405, "method_not_allowed");
    assert!(!answer.has_header(ALLOWED));
    assert!(!get(&app.lead, OURS).await.assert_status(200).has_header(ALLOWED));
}

#[tokio::test]
async fn a_named_page_may_do_whatever_the_api_has() {
    let app = open().await;
    for method in ["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE"] {
        let headers = "authorization, content-type, idempotency-key, if-match, if-none-match, \
            x-request-id, traceparent, tracestate";
        let answer = preflight(&app, OURS, method, headers).await.assert_status(200);
        assert_eq!(answer.header(ALLOWED), OURS, "{method}");
        assert!(answer.header("access-control-allow-methods").contains(method), "{method}");
        let allowed = answer.header("access-control-allow-headers").to_lowercase();
        assert!(headers.split(", ").all(|name| allowed.contains(name.trim())), "{allowed}");
        assert!(answer.header("vary").contains("Origin"));
        assert!(!answer.has_header("access-control-allow-credentials"));
    }
}

#[tokio::test]
async fn a_named_page_sees_answers_and_errors_with_their_headers() {
    let app = open().await;
    for (user, status) in [(&app.lead, 200), (&app.nobody, 401)] {
        let answer = get(user, OURS).await.assert_status(status);
        assert_eq!(answer.header(ALLOWED), OURS);
        let exposed = answer.header("access-control-expose-headers").to_lowercase();
        for name in ["etag", "link", "location", "ratelimit", "retry-after", "x-request-id"] {
            assert!(exposed.split(", ").any(|seen| seen == name), "{name} of {exposed}");
        }
    }
    get(&app.lead, OURS).await.assert_status(200);
    get(&app.lead, OURS).await.assert_status(200);
    let refused = get(&app.lead, OURS).await.assert_problem(429, "too_many_requests");
    assert_eq!(refused.header(ALLOWED), OURS, "the page must see why");
    assert!(refused.has_header("retry-after"));
}

#[tokio::test]
async fn any_other_page_is_not_let_in() {
    let app = open().await;
    for (origin, method, headers) in [
        (THEIRS, "GET", "authorization"),
        ("null", "GET", "authorization"),
        ("https://app.example.org.elsewhere.example", "GET", "authorization"),
        ("http://app.example.org", "GET", "authorization"),
        (OURS, "TRACE", "authorization"),
        (OURS, "GET", "x-of-its-own"),
    ] {
        let answer = preflight(&app, origin, method, headers).await;
        let answer = answer.assert_problem(403, "origin_not_allowed");
        assert!(!answer.has_header("access-control-allow-methods"), "{origin} {method}");
    }
    // The browser keeps the answer from the page; other programs are none of its business.
    let answer = get(&app.lead, THEIRS).await.assert_status(200);
    assert!(!answer.has_header(ALLOWED));
}
