//! Systems that misbehave: each fault is answered clearly, and nothing is half applied.

use std::sync::Mutex;
use std::time::{Duration, Instant};

use actix_web::HttpResponse;
use actix_web::web::Bytes;
use futures_util::stream;
use serde_json::{Value, json};
use tests::TestApp;

use super::land::{Land, link_to, ring, system_of};
use super::stand_in::Asked;
use super::{Link, counts, how_many};

/// What a run says of a system whose second page of fields is answered so.
async fn second_page(answer: impl Fn(&Asked) -> HttpResponse + Send + 'static) -> (Value, usize) {
    let app = TestApp::start().await;
    let land = Land::with(10);
    let (system, _) = system_of(land.clone()).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    system.answers(move |asked| {
        let is_it =
            asked.path == "/api/fields" && asked.query.get("page").is_some_and(|it| it == "2");
        if is_it { answer(asked) } else { land.answer(asked) }
    });
    let stopped = link.stopped(&app).await;
    system.stop().await;
    // Neither fields nor farms nor growers: the whole run takes nothing.
    let made = how_many(&app, "/v1/fields").await
        + how_many(&app, "/v1/farms").await
        + how_many(&app, "/v1/growers").await;
    (stopped, made - 1)
}

/// A page of fields with some other way on.
fn leading_to(next: &str) -> HttpResponse {
    HttpResponse::Ok().json(json!({"data": [super::land::field(8)], "links": {"next": next}}))
}

#[tokio::test]
async fn each_fault_of_a_page_ends_the_run_and_nothing_is_taken() {
    type Fault = Box<dyn Fn(&Asked) -> HttpResponse + Send>;
    let faults: Vec<(&str, Fault)> = vec![
        ("status", Box::new(|_| HttpResponse::InternalServerError().body("oh"))),
        ("status", Box::new(|_| HttpResponse::NotFound().json(json!({})))),
        ("status", Box::new(|_| HttpResponse::NotModified().finish())),
        ("status", Box::new(|_| HttpResponse::NoContent().finish())),
        ("sign_in_refused", Box::new(|_| HttpResponse::Forbidden().finish())),
        ("not_json", Box::new(|_| HttpResponse::Ok().body("{\"data\": [{\"uid\": \"f"))),
        (
            "not_json",
            Box::new(|_| HttpResponse::Ok().body("<!doctype html><title>Sign in</title>")),
        ),
        (
            "not_json",
            Box::new(|_| HttpResponse::Ok().body(Bytes::from_static(b"{\"data\": [\"\xf6\"]}"))),
        ),
        ("not_json", Box::new(|_| HttpResponse::Ok().body("[".repeat(200_000)))),
        ("page_repeats", Box::new(|asked| leading_to(&asked.target))),
        ("page_repeats", Box::new(|_| leading_to("/api/fields"))),
        ("other_origin", Box::new(|_| leading_to("http://169.254.169.254/latest"))),
        ("other_origin", Box::new(|_| leading_to("//elsewhere.example/fields"))),
        (
            "paging",
            Box::new(|_| {
                HttpResponse::Ok().json(json!({"data": [], "links": {"next": ["/api/fields"]}}))
            }),
        ),
        (
            "address_refused",
            Box::new(|_| {
                HttpResponse::Found()
                    .insert_header(("location", "http://10.11.12.13/fields"))
                    .finish()
            }),
        ),
        (
            "address_refused",
            Box::new(|_| {
                HttpResponse::Found().insert_header(("location", "file:///etc/passwd")).finish()
            }),
        ),
        (
            "unreachable",
            Box::new(|asked| {
                HttpResponse::Found().insert_header(("location", asked.target.clone())).finish()
            }),
        ),
        (
            "busy",
            Box::new(|_| {
                HttpResponse::TooManyRequests().insert_header(("retry-after", "3600")).finish()
            }),
        ),
    ];
    for (code, fault) in faults {
        let (stopped, made) = second_page(fault).await;
        assert_eq!(stopped["code"], code, "{stopped}");
        assert_eq!((&stopped["kind"], &stopped["page"]), (&json!("field"), &json!(2)), "{stopped}");
        assert_eq!(made, 0, "{code}");
    }
}

#[tokio::test]
async fn a_body_without_end_is_broken_off() {
    let begun = Instant::now();
    let (stopped, made) = second_page(|_| {
        // 2 GB, as fast as it is taken.
        let part = Bytes::from(vec![b' '; 65_536]);
        let parts = (0..32_768).map(move |_| Ok::<_, actix_web::Error>(part.clone()));
        HttpResponse::Ok().content_type("application/json").streaming(stream::iter(parts))
    })
    .await;
    assert_eq!((&stopped["code"], made), (&json!("too_large"), 0), "{stopped}");
    assert!(begun.elapsed() < Duration::from_secs(30), "{:?}", begun.elapsed());
}

#[tokio::test]
async fn a_system_that_asks_to_wait_is_waited_for() {
    let app = TestApp::start().await;
    let land = Land::with(6);
    let (system, _) = system_of(land.clone()).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let times = Mutex::new(0);
    system.answers(move |asked| {
        let mut times = times.lock().expect("a lock");
        if asked.path == "/api/fields" && *times < 2 {
            *times += 1;
            return HttpResponse::TooManyRequests().insert_header(("retry-after", "1")).finish();
        }
        land.answer(asked)
    });
    let begun = Instant::now();
    assert_eq!(counts(&link.apply(&app).await, "field")["created"], 6);
    assert!(begun.elapsed() >= Duration::from_secs(2));
    system.stop().await;
}

#[tokio::test]
async fn a_page_that_comes_again_under_another_number_ends_it() {
    let app = TestApp::start().await;
    let land = Land::with(3);
    let (system, _) = system_of(land).await;
    let mut body = link_to(&system);
    // The system does not know this parameter, and sends its first page for ever.
    body["paging"] = json!({"kind": "page", "parameter": "seite", "first": 1});
    let link = Link::make(&app.lead, &body).await;
    assert_eq!(link.stopped(&app).await["code"], "page_repeats");
    system.stop().await;
}

#[tokio::test]
async fn a_record_that_is_wrong_is_named_and_the_others_are_taken() {
    let app = TestApp::start().await;
    let mut land = Land::with(9);
    land.page_size = 20;
    land.fields[0].as_object_mut().expect("a record").remove("uid");
    let swapped: Vec<Value> =
        ring(1).as_array().expect("a ring").iter().map(|it| json!([it[1], it[0]])).collect();
    land.fields[1]["shape"]["coordinates"] = json!([swapped]);
    land.fields[2]["size"] = json!(15.99);
    let corners = ring(3);
    land.fields[3]["shape"]["coordinates"] =
        json!([[corners[0], corners[2], corners[1], corners[3], corners[0]]]);
    land.fields[4]["label"] = json!(["no", "text"]);
    land.fields[5]["home"]["uid"] = json!("farm-of-nobody");
    land.fields[6]["uid"] = json!(1.5);
    land.fields[7] = json!("no record");
    let (system, land) = system_of(land).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let run = link.apply(&app).await;
    let fields = counts(&run, "field");
    assert_eq!((&fields["created"], &fields["refused"]), (&json!(1), &json!(8)), "{run}");
    let refused: Vec<(String, String)> = run["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .filter(|row| row["outcome"] == "refused")
        .map(|row| {
            let bad = &row["refused"][0];
            let text = |member: &str| bad[member].as_str().expect(member).to_owned();
            (text("pointer"), text("detail"))
        })
        .collect();
    for (place, words) in [
        ("/data/0/uid", "no id"),
        ("/data/1/shape", "latitude"),
        ("/data/2/size", "unit"),
        ("/data/3/shape", "simple"),
        ("/data/4/label", "no text"),
        ("/data/5/home/uid", ""),
        ("/data/6/uid", "whole number"),
        ("/data/7", "no JSON object"),
    ] {
        let found = refused.iter().find(|(pointer, _)| pointer.contains(place));
        let (_, detail) = found.unwrap_or_else(|| panic!("no {place} in {refused:?}"));
        assert!(detail.contains(words), "{place}: {detail}");
    }
    assert_eq!(how_many(&app, "/v1/fields").await, 1);
    // Mended over there, they come with the next run.
    {
        let mut land = land.lock().expect("a lock");
        land.fields = (0..9).map(super::land::field).collect();
    }
    assert_eq!(counts(&link.apply(&app).await, "field")["created"], 8);
    system.stop().await;
}

#[tokio::test]
async fn a_list_that_can_not_be_whole_marks_nothing_as_missing() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(3)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    link.apply(&app).await;
    land.lock().expect("a lock").fields[1].as_object_mut().expect("a record").remove("uid");
    let run = link.apply(&app).await;
    assert_eq!(counts(&run, "field")["missing"], 0, "{run}");
    assert!(run["notes"].to_string().contains("without an id"), "{run}");
    land.lock().expect("a lock").fields.clear();
    let run = link.apply(&app).await;
    assert_eq!(counts(&run, "field")["missing"], 0, "{run}");
    assert!(run["notes"].to_string().contains("empty"), "{run}");
    system.stop().await;
}

#[tokio::test]
async fn a_system_that_ends_in_the_middle_leaves_all_as_it_was() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(10)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    link.apply(&app).await;
    let before = app.lead.get("/v1/fields?limit=200").await.text;
    land.lock().expect("a lock").fields[0]["label"] = json!("Renamed");
    system.stop().await;
    let stopped = link.stopped(&app).await;
    assert_eq!(stopped["code"], "unreachable");
    assert_eq!(app.lead.get("/v1/fields?limit=200").await.text, before);
}
