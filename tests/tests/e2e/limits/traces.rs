//! The trace of a request (W3C trace context).

use tests::{Answer, TestApp};

const TRACE: &str = "4bf92f3577b34da6a3ce929d0e0e4736";
const SPAN: &str = "00f067aa0ba902b7";

async fn ask(app: &TestApp, parents: &[&str]) -> Answer {
    let headers: Vec<(&str, &str)> =
        parents.iter().map(|parent| ("traceparent", *parent)).collect();
    app.nobody.send("GET", "/v1/growers", &headers, None).await.assert_status(401)
}

/// Trace and span of an answer, which must be whole.
fn trace_of(answer: &Answer) -> (String, String) {
    let text = answer.header("traceresponse").to_owned();
    let fields: Vec<&str> = text.split('-').collect();
    let lengths: Vec<usize> = fields.iter().map(|field| field.len()).collect();
    assert_eq!(lengths, [2, 32, 16, 2], "{text}");
    let small_hex = |letter: u8| letter.is_ascii_digit() || (b'a'..=b'f').contains(&letter);
    assert!(fields.iter().all(|field| field.bytes().all(small_hex)), "{text}");
    assert_eq!(fields[0], "00");
    (fields[1].to_owned(), fields[2].to_owned())
}

#[tokio::test]
async fn the_trace_of_the_caller_goes_on_with_a_span_of_ours() {
    let app = TestApp::start().await;
    for parent in [
        format!("00-{TRACE}-{SPAN}-01"),
        format!("00-{TRACE}-{SPAN}-00"),
        format!("cc-{TRACE}-{SPAN}-01-and-more"),
    ] {
        let (trace, span) = trace_of(&ask(&app, &[&parent]).await);
        assert_eq!(trace, TRACE, "{parent}");
        assert_ne!(span, SPAN, "{parent}");
    }
}

#[tokio::test]
async fn what_is_not_whole_begins_a_new_trace_and_is_no_error() {
    let app = TestApp::start().await;
    let good = format!("00-{TRACE}-{SPAN}-01");
    let mut seen = vec![TRACE.to_owned()];
    for parents in [
        &[][..],
        &[&*format!("ff-{TRACE}-{SPAN}-01")],
        &[&*format!("00-{}-{SPAN}-01", "0".repeat(32))],
        &[&*format!("00-{TRACE}-{}-01", "0".repeat(16))],
        &[&*format!("00-{}-{SPAN}-01", TRACE.to_uppercase())],
        &[&*format!("00-{TRACE}-{SPAN}-01-more")],
        &[&*"x".repeat(3000)],
        &[&*good, &*good],
    ] {
        let (trace, _) = trace_of(&ask(&app, parents).await);
        assert!(!seen.contains(&trace), "{parents:?}");
        seen.push(trace);
    }
}
