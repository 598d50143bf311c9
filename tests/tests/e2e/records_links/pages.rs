//! The ways from page to page, against a system that has each.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use actix_web::HttpResponse;
use serde_json::{Value, json};
use tests::TestApp;

use super::land::{link_to, ring};
use super::stand_in::{Asked, StandIn};
use super::{Link, counts};

const GROWERS: usize = 7;

/// Growers, three to a page; the way on is put in by `way`.
fn answer(
    asked: &Asked,
    begin: usize,
    way: impl Fn(usize, &mut Value) -> Option<String>,
) -> HttpResponse {
    assert_eq!(
        asked.query.get("limit").map(String::as_str),
        Some("3"),
        "parameters stay: {}",
        asked.target
    );
    let rows: Vec<Value> = (begin..GROWERS.min(begin + 3))
        .map(|number| json!({"no": number, "called": format!("Grower {number}")}))
        .collect();
    let mut body = json!({"rows": rows});
    let link = if begin + 3 < GROWERS { way(begin + 3, &mut body) } else { None };
    let mut answer = HttpResponse::Ok();
    if let Some(link) = link {
        answer.insert_header(("link", link));
    }
    answer.json(body)
}

fn number(asked: &Asked, parameter: &str) -> usize {
    asked.query.get(parameter).map_or(0, |text| text.parse().expect("a number"))
}

async fn fetched(
    app: &TestApp,
    paging: Value,
    script: impl Fn(&Asked) -> HttpResponse + Send + 'static,
) -> usize {
    let system = StandIn::start(script).await;
    let body = json!({
        "name": paging.to_string(), "system": "pages", "base_url": system.base, "auth": {"kind": "none"},
        "paging": paging,
        "resources": {"growers": {
            "path": "/growers", "parameters": [{"name": "limit", "value": "3"}],
            "items": "$.rows[*]", "id": "/no", "name": "/called"
        }}
    });
    let link = Link::make(&app.lead, &body).await;
    let run = link.run(app, json!({"mode": "preview"})).await;
    let records = counts(&run, "grower")["records"].as_u64().expect("a number");
    system.stop().await;
    usize::try_from(records).expect("small")
}

#[tokio::test]
async fn every_way_leads_over_all_pages() {
    let app = TestApp::start().await;
    let all = GROWERS;
    let header = json!({"kind": "link_header"});
    let records = fetched(&app, header, |asked| {
        answer(asked, number(asked, "from"), |next, _| {
            Some(format!(
                "</growers?limit=3>; rel=\"first\", <?limit=3&from={next}>; title=\"a, b\"; rel=next"
            ))
        })
    });
    assert_eq!(records.await, all);
    let links = json!({"kind": "links"});
    let records = fetched(&app, links, |asked| {
        answer(asked, number(asked, "from"), |next, body| {
            let href = format!("/growers?limit=3&from={next}");
            body["links"] = json!([{"rel": "self", "href": "/x"}, {"rel": "next", "href": href}]);
            None
        })
    });
    assert_eq!(records.await, all);
    let cursor = json!({"kind": "cursor", "pointer": "/meta/cursor", "parameter": "c"});
    let records = fetched(&app, cursor, |asked| {
        let begin = asked.query.get("c").map_or(0, |text| text[2..].parse().expect("a number"));
        answer(asked, begin, |next, body| {
            body["meta"] = json!({"cursor": format!("& {next}")});
            None
        })
    });
    assert_eq!(records.await, all);
    let page = json!({"kind": "page", "parameter": "page", "first": 1});
    let records =
        fetched(&app, page, |asked| answer(asked, (number(asked, "page") - 1) * 3, |_, _| None));
    assert_eq!(records.await, all);
    let offset = json!({"kind": "offset", "parameter": "skip"});
    let records = fetched(&app, offset, |asked| answer(asked, number(asked, "skip"), |_, _| None));
    assert_eq!(records.await, all);
    let one = json!({"kind": "none"});
    let records = fetched(&app, one, |asked| answer(asked, 0, |_, _| None));
    assert_eq!(records.await, 3);
}

#[tokio::test]
async fn features_need_hardly_a_word() {
    let app = TestApp::start().await;
    let feature = |id: Value, properties: Value, geometry: Value| json!({"type": "Feature", "id": id, "properties": properties, "geometry": geometry});
    let square = json!({"type": "Polygon", "coordinates": [ring(3)], "bbox": [0, 0, 1, 1]});
    let pages = json!({
        "/collections/growers/items": [feature(json!("g1"), json!({"name": "Orla Venn"}), Value::Null)],
        "/collections/farms/items": [feature(json!("a1"), json!({"name": "Home", "of": "g1"}), Value::Null)],
        "/collections/fields/items": [feature(json!(5), json!({"name": "North", "of": "a1"}), square)],
    });
    let system = StandIn::start(move |asked| match pages.get(&asked.path) {
        Some(features) => HttpResponse::Ok()
            .content_type("application/geo+json")
            .json(json!({"type": "FeatureCollection", "features": features, "links": []})),
        None => HttpResponse::NotFound().finish(),
    })
    .await;
    for (preset, system_name) in [("ogc_features", "ogc"), ("feature_collection", "geojson")] {
        let body = json!({
            "name": preset, "system": system_name, "base_url": format!("{}/collections", system.base),
            "auth": {"kind": "none"}, "preset": preset,
            "resources": {
                "growers": {"path": "/growers/items"},
                "farms": {"path": "/farms/items", "parent": "/properties/of"},
                "fields": {"path": "/fields/items", "parent": "/properties/of"}
            }
        });
        let link = Link::make(&app.lead, &body).await;
        assert_eq!(link.test().await["good"], true);
        let run = link.run(&app, json!({"mode": "preview"})).await;
        assert_eq!(counts(&run, "field")["created"], 1, "{run}");
    }
    system.stop().await;
}

#[tokio::test]
async fn boundaries_may_be_well_known_text_and_numbers_texts() {
    let app = TestApp::start().await;
    let system = StandIn::start(|asked| match asked.path.as_str() {
        "/farms" => HttpResponse::Ok().json(json!([{"i": 1, "n": "Home", "g": 9}])),
        "/growers" => HttpResponse::Ok().json(json!([{"i": 9, "n": "Orla Venn"}])),
        _ => HttpResponse::Ok().json(json!([
            {"i": 3, "n": "North", "f": 1, "ha": "15.99",
             "w": "SRID=4326;POLYGON ((-93.6 42, -93.59517 42, -93.59517 42.003597, -93.6 42.003597, -93.6 42))"},
            {"i": 4, "n": "South", "f": 1, "ha": "15,99", "w": null},
            {"i": 5, "n": "East", "f": 1, "ha": "", "w": "LINESTRING (1 2, 3 4)"}
        ])),
    })
    .await;
    let of = |path: &str, parent: Value| json!({"path": path, "items": "$[*]", "id": "/i", "name": "/n", "parent": parent});
    let mut body = link_to(&system);
    body["base_url"] = json!(system.base);
    body["resources"] = json!({
        "growers": {"path": "/growers", "items": "$[*]", "id": "/i", "name": "/n"},
        "farms": of("/farms", json!("/g")), "fields": of("/fields", json!("/f"))
    });
    body["resources"]["fields"]["boundary"] = json!({"pointer": "/w", "encoding": "wkt"});
    body["resources"]["fields"]["area"] = json!({"pointer": "/ha", "unit": "har"});
    let link = Link::make(&app.lead, &body).await;
    let run = link.apply(&app).await;
    let fields = counts(&run, "field");
    assert_eq!((&fields["created"], &fields["refused"]), (&json!(1), &json!(2)), "{run}");
    let listed = app.lead.get("/v1/fields").await.json();
    let area = &listed["items"][0]["boundary_area"];
    // The oracle G1: 159,875.4 m² on the ellipsoid of WGS 84 by an independent library, 39.506 acres.
    assert!((area["value"].as_f64().expect("a number") - 39.506).abs() < 0.001, "{listed}");
    let refused = run["rows"].to_string();
    assert!(
        refused.contains("fields, page 1, /1/ha") && refused.contains("fields, page 1, /2/w"),
        "{refused}"
    );
    system.stop().await;
}

/// The way on stands in a header, the version is that of the body: a page that comes behind a full one changes neither.
#[tokio::test]
async fn a_page_that_comes_behind_the_last_is_found_although_no_version_changes() {
    let app = TestApp::start().await;
    let growers = Arc::new(AtomicUsize::new(6));
    let there = growers.clone();
    let system = StandIn::start(move |asked| {
        let (begin, all) = (number(asked, "from"), there.load(Ordering::SeqCst));
        let rows: Vec<Value> = (begin..all.min(begin + 3))
            .map(|number| json!({"no": number, "called": format!("Grower {number}")}))
            .collect();
        let tag = format!("\"{begin}-{}\"", rows.len());
        if asked.header("if-none-match") == tag {
            return HttpResponse::NotModified().finish();
        }
        let mut answer = HttpResponse::Ok();
        answer.insert_header(("etag", tag));
        if begin + 3 < all {
            answer.insert_header(("link", format!("</growers?from={}>; rel=next", begin + 3)));
        }
        answer.json(json!({"rows": rows}))
    })
    .await;
    let body = json!({
        "name": "Growers", "system": "pages", "base_url": system.base, "auth": {"kind": "none"},
        "paging": {"kind": "link_header"}, "changes": {"kind": "etag"},
        "resources": {"growers": {
            "path": "/growers", "items": "$.rows[*]", "id": "/no", "name": "/called"
        }}
    });
    let link = Link::make(&app.lead, &body).await;
    assert_eq!(counts(&link.apply(&app).await, "grower")["created"], 6);
    let same = counts(&link.apply(&app).await, "grower");
    assert_eq!((&same["not_modified"], &same["records"]), (&json!(true), &json!(0)));
    growers.store(7, Ordering::SeqCst);
    let more = counts(&link.apply(&app).await, "grower");
    assert_eq!((&more["records"], &more["created"]), (&json!(7), &json!(1)), "{more}");
    system.stop().await;
}
