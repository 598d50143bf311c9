//! Reading who did what and when.

use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::TestApp;

fn operations(page: &Value) -> Vec<&str> {
    let items = page["items"].as_array().expect("items");
    items.iter().map(|event| event["operation"].as_str().expect("an operation")).collect()
}

#[tokio::test]
async fn the_lead_reads_what_was_done_page_by_page_and_by_filter() {
    let app = TestApp::start().await;
    let grower = app.advisor.create("/v1/growers", &json!({"name": "A"})).await;
    let path = format!("/v1/growers/{grower}");
    app.clock.advance(TimeDelta::minutes(10));
    let change = json!({"phone": "555 0100", "notes": null});
    let changed = app.advisor.patch(&path, "*", &change).await.assert_status(200);
    app.clock.advance(TimeDelta::minutes(10));
    app.lead.delete(&path).await.assert_status(204);

    let of_it = format!("/v1/audit-events?object_id={grower}");
    let page = app.lead.get(&of_it).await.assert_status(200).json();
    assert_eq!(operations(&page), ["create_grower", "update_grower", "delete_grower"]);
    let event = &page["items"][1];
    assert_eq!(event["account_id"], app.advisor.account_id);
    assert_eq!(event["role"], "advisor");
    assert_eq!(event["object_kind"], "grower");
    assert_eq!(event["grower_id"], grower);
    assert_eq!(event["request_id"], changed.header("x-request-id"));
    let mut names: Vec<&str> =
        event["changed"].as_array().expect("names").iter().filter_map(Value::as_str).collect();
    names.sort_unstable();
    assert_eq!(names, ["notes", "phone"]);
    assert!(!page.to_string().contains("555 0100"), "values are not kept");

    let first = app.lead.get(&format!("{of_it}&limit=2")).await.assert_status(200);
    let next = first.json()["next_cursor"].as_str().expect("a next page").to_owned();
    assert!(first.header("link").contains("rel=\"next\""));
    let second = app.lead.get(&format!("{of_it}&limit=2&cursor={next}")).await.json();
    assert_eq!(operations(&second), ["delete_grower"]);

    for (filter, expected) in [
        ("since=2027-04-20T12:10:00Z", vec!["update_grower", "delete_grower"]),
        ("until=2027-04-20T12:10:00Z", vec!["create_grower"]),
        ("since=2027-04-20T12:01:00Z&until=2027-04-20T12:11:00Z", vec!["update_grower"]),
        ("operation=delete_grower", vec!["delete_grower"]),
        (&format!("account_id={}", app.lead.account_id), vec!["delete_grower"]),
        ("operation=no_such_operation", vec![]),
    ] {
        let page = app.lead.get(&format!("{of_it}&{filter}")).await.assert_status(200).json();
        assert_eq!(operations(&page), expected, "{filter}");
    }
    let theirs = app.stranger.get(&of_it).await.assert_status(200).json();
    assert_eq!(theirs["items"], json!([]));
}

#[tokio::test]
async fn filters_that_can_not_be_are_refused() {
    let app = TestApp::start().await;
    for (filter, member) in [
        ("object_id=".to_owned(), "?object_id"),
        (format!("operation={}", "x".repeat(121)), "?operation"),
        ("since=yesterday".to_owned(), "?since"),
        ("account_id=7".to_owned(), "?account_id"),
        ("cursor=AAAA".to_owned(), "?cursor"),
    ] {
        let refused = app.lead.get(&format!("/v1/audit-events?{filter}")).await;
        refused.assert_problem(422, "invalid_request").assert_member(member);
    }
}

#[tokio::test]
async fn the_export_is_the_whole_trail_line_by_line_over_many_reads() {
    let app = TestApp::start().await;
    // More than is read at once, and not a multiple of it.
    for n in 0..1203 {
        app.lead.post("/v1/growers", &json!({"name": format!("G{n}")})).await.assert_status(201);
    }
    let export = app.lead.get("/v1/audit-events/export").await.assert_status(200);
    assert_eq!(export.header("content-type"), "text/plain; charset=utf-8");
    assert!(export.header("content-disposition").contains("audit-events.jsonl"));
    assert_eq!(export.header("cache-control"), "no-store");
    // The clock stands still: what is done in the moment of the export is not before it.
    assert_eq!(export.text, "");
    app.clock.advance(TimeDelta::seconds(1));
    let export = app.lead.get("/v1/audit-events/export?operation=create_grower").await;
    let lines: Vec<Value> =
        export.text.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    assert_eq!(lines.len(), 1204, "with the one that every test begins with");
    let ids: Vec<&str> = lines.iter().map(|line| line["id"].as_str().expect("an id")).collect();
    assert!(ids.is_sorted() && ids.windows(2).all(|two| two[0] != two[1]));
    let page = app.lead.get("/v1/audit-events?operation=create_grower&limit=200").await.json();
    assert_eq!(page["items"].as_array().expect("items")[..], lines[..200]);
    let theirs = app.stranger.get("/v1/audit-events/export").await.assert_status(200);
    assert!(!theirs.text.contains("create_grower"));
}
