//! The test of a link: records as they came beside what is read in them.

use actix_web::HttpResponse;
use serde_json::{Value, json};
use tests::TestApp;

use super::Link;
use super::land::{Land, link_to, system_of};
use super::stand_in::StandIn;

fn of_kind<'a>(test: &'a Value, kind: &str) -> &'a Value {
    let all = test["resources"].as_array().expect("resources");
    all.iter().find(|tested| tested["kind"] == kind).expect(kind)
}

#[tokio::test]
async fn a_test_shows_raw_beside_read_and_stores_nothing() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(6)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let test = link.test().await;
    assert_eq!(test["good"], true, "{test}");
    let fields = of_kind(&test, "field");
    assert_eq!(fields["url"], format!("{}/api/fields", system.base));
    assert_eq!((&fields["records"], &fields["has_next_page"]), (&json!(4), &json!(true)));
    let sample = &fields["samples"][0];
    assert_eq!(sample["place"], "/data/0");
    assert_eq!(sample["raw"]["label"], "Field 0");
    let read = sample["read"].as_array().expect("read");
    let value = |member: &str| {
        let found = read.iter().find(|read| read["member"] == member);
        found.unwrap_or_else(|| panic!("no {member} in {sample}"))["value"].clone()
    };
    assert_eq!(value("id"), "field-0");
    assert_eq!(value("parent"), "farm-0");
    assert_eq!(value("area"), "39.5 [acr_us]");
    assert_eq!(value("boundary"), "a boundary of 5 positions");
    // An owner who has two farms stands in the list twice.
    assert_eq!(of_kind(&test, "grower")["records"], 2);
    let growers = app.lead.get("/v1/growers").await.json();
    assert_eq!(growers["items"].as_array().expect("items").len(), 1, "only the one of the test");
    let asked: Vec<String> = system.take().into_iter().map(|asked| asked.target).collect();
    assert_eq!(asked, ["/api/farms", "/api/farms", "/api/fields"], "one page of each");
    system.stop().await;
}

#[tokio::test]
async fn a_test_names_every_pointer_that_found_nothing() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(3)).await;
    land.lock().expect("a lock").fields[1]["size"] = Value::Null;
    let mut body = link_to(&system);
    body["resources"]["fields"]["name"] = json!("/title");
    body["paging"]["pointer"] = json!("/link/next");
    let link = Link::make(&app.lead, &body).await;
    let test = link.test().await;
    assert_eq!(test["good"], false);
    let fields = of_kind(&test, "field");
    assert_eq!(
        fields["found_nothing"],
        json!([
            {"member": "name", "pointer": "/title", "in_records": 3},
            {"member": "area", "pointer": "/size", "in_records": 1}
        ])
    );
    let hints = fields["hints"].to_string();
    assert!(hints.contains("/title") && hints.contains("/link/next"), "{hints}");
    assert!(!hints.contains("/size"), "one field without an area is no slip: {hints}");

    // Mended step by step, as a stranger would.
    body["resources"]["fields"]["name"] = json!("/label");
    link.change(&json!({"resources": body["resources"]})).await;
    assert_eq!(link.test().await["good"], false);
    link.change(&json!({"paging": {"kind": "next_url", "pointer": "/links/next"}})).await;
    assert_eq!(link.test().await["good"], true);
    system.stop().await;
}

#[tokio::test]
async fn a_list_that_is_not_there_shows_the_page_instead() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(3)).await;
    let mut body = link_to(&system);
    body["resources"]["fields"]["items"] = json!("$.rows[*]");
    let test = Link::make(&app.lead, &body).await.test().await;
    let fields = of_kind(&test, "field");
    assert_eq!((&fields["records"], &test["good"]), (&json!(0), &json!(false)));
    assert_eq!(fields["page"]["data"][0]["label"], "Field 0");
    assert!(fields["hints"].to_string().contains("$.rows[*]"));
    system.stop().await;
}

#[tokio::test]
async fn what_can_not_be_fetched_says_why_for_each_resource() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(1)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    system.answers(move |asked| match asked.path.as_str() {
        "/api/fields" => HttpResponse::InternalServerError().body("oh"),
        _ => land.lock().expect("a lock").answer(asked),
    });
    let test = link.test().await;
    assert_eq!(of_kind(&test, "field")["stopped"]["code"], "status");
    assert!(of_kind(&test, "farm").get("stopped").is_none());
    system.stop().await;
    assert_eq!(of_kind(&link.test().await, "farm")["stopped"]["code"], "unreachable");
}

/// Whoever may make a link could have a system say back what it was sent.
#[tokio::test]
async fn a_record_that_says_the_secret_back_is_blotted() {
    let app = TestApp::start().await;
    let system = StandIn::start(|asked| {
        let sent = asked.header("authorization");
        HttpResponse::Ok()
            .json(json!([{"id": 1, "name": format!("You sent {sent}"), "list": [sent]}]))
    })
    .await;
    for (auth, hidden) in [
        (
            json!({"kind": "header", "name": "Authorization", "prefix": "Bearer ", "secret": "hush-77"}),
            "hush-77",
        ),
        (json!({"kind": "basic", "user": "u", "secret": "hush-77"}), "dTpodXNoLTc3"),
    ] {
        let body = json!({
            "name": hidden, "system": "echo", "base_url": system.base, "auth": auth,
            "resources": {"growers": {"path": "/g", "items": "$[*]", "id": "/id", "name": "/name"}}
        });
        let test = Link::make(&app.lead, &body).await.test().await;
        let sample = &test["resources"][0]["samples"][0];
        assert!(sample["raw"]["name"].as_str().expect("a name").contains("***"), "{sample}");
        assert!(!sample["raw"].to_string().contains(hidden), "{sample}");
        assert!(!test.to_string().contains(hidden), "{test}");
        let sent = system.take().pop().expect("asked");
        assert!(sent.header("authorization").contains(hidden));
    }
    system.stop().await;
}
