//! Clients that take their time: a head or a body that does not arrive.

use std::time::Duration;

use tests::TestApp;

use super::raw::{Raw, head};

const JSON: &str = "Content-Type: application/json\r\n";

async fn growers(app: &TestApp) -> usize {
    let page = app.lead.get("/v1/growers").await.assert_status(200).json();
    page["items"].as_array().expect("items").len()
}

#[tokio::test]
async fn a_head_that_drips_is_given_up_after_the_set_time() {
    let app = TestApp::start_with(|settings| settings.limits.head_seconds = 1).await;
    let mut slow = Raw::connect(&app).await;
    slow.say("GET /health/live HTTP/1.1\r\nHost: here\r\n").await;
    let heard = slow.drip("X-More: x\r\n", Duration::from_millis(200)).await;
    assert_eq!(heard.status, Some(408), "{}", heard.text);
    assert!(heard.after < Duration::from_secs(4), "{:?}", heard.after);
    assert!(slow.is_closed().await);
    app.nobody.get("/health/live").await.assert_status(200);
}

#[tokio::test]
async fn a_connection_that_says_nothing_is_closed() {
    let app = TestApp::start_with(|settings| settings.limits.head_seconds = 1).await;
    let mut silent = Raw::connect(&app).await;
    assert!(silent.is_closed().await);
}

#[tokio::test]
async fn a_body_that_drips_is_408_and_nothing_is_written() {
    let app = TestApp::start().await;
    let mut slow = Raw::connect(&app).await;
    let more = format!("{JSON}Content-Length: 5000\r\n");
    slow.say(&head(&app.lead, "POST /v1/growers", &more)).await;
    slow.say("{\"name\": \"A slow one\", \"notes\": \"").await;
    let heard = slow.drip("x", Duration::from_millis(100)).await;
    assert_eq!(heard.status, Some(408), "{}", heard.text);
    assert_eq!(heard.problem()["code"], "too_slow");
    assert!(heard.after >= Duration::from_secs(2) && heard.after < Duration::from_secs(6));
    assert!(slow.is_closed().await);
    assert_eq!(growers(&app).await, 1);
}

#[tokio::test]
async fn a_body_that_stops_is_408_at_the_set_time() {
    let app = TestApp::start_with(|settings| settings.limits.body_seconds = 1).await;
    let mut slow = Raw::connect(&app).await;
    let more = format!("{JSON}Content-Length: 50\r\n");
    slow.say(&head(&app.lead, "POST /v1/growers", &more)).await;
    slow.say("{\"name\":").await;
    let heard = slow.hear().await;
    assert_eq!((heard.status, heard.problem()["code"].as_str()), (Some(408), Some("too_slow")));
    assert!(heard.after < Duration::from_secs(3), "{:?}", heard.after);
    assert_eq!(growers(&app).await, 1);
}

#[tokio::test]
async fn a_body_in_chunks_that_never_ends_is_408() {
    let app = TestApp::start_with(|settings| settings.limits.body_seconds = 1).await;
    let mut slow = Raw::connect(&app).await;
    let more = format!("{JSON}Transfer-Encoding: chunked\r\n");
    slow.say(&head(&app.lead, "POST /v1/growers", &more)).await;
    let heard = slow.drip("1\r\n \r\n", Duration::from_millis(20)).await;
    assert_eq!((heard.status, heard.problem()["code"].as_str()), (Some(408), Some("too_slow")));
    assert_eq!(growers(&app).await, 1);
}

#[tokio::test]
async fn a_body_that_comes_in_time_is_taken() {
    let app = TestApp::start().await;
    let mut steady = Raw::connect(&app).await;
    let body = "{\"name\": \"A steady one\"}";
    let more = format!("{JSON}Content-Length: {}\r\n", body.len());
    steady.say(&head(&app.lead, "POST /v1/growers", &more)).await;
    for piece in body.as_bytes().chunks(4) {
        tokio::time::sleep(Duration::from_millis(100)).await;
        steady.say(std::str::from_utf8(piece).expect("text")).await;
    }
    assert_eq!(steady.hear().await.status, Some(201));
    assert_eq!(growers(&app).await, 2);
}
