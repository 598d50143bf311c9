//! Stand counts.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{near, planted, stead, steady, thousandths};

fn codes(found: &Value) -> Vec<&str> {
    let notices = found["notices"].as_array().expect("notices");
    notices.iter().filter_map(|it| it["code"].as_str()).collect()
}

/// Worked by hand: 31, 29 and 32 plants in a thousandth of an acre: mean 30.667, sd 1.5275, t(0.975,
/// 2) = 4.30265, half width 3.7946 thousand.
#[tokio::test]
async fn three_places_give_the_stand_with_its_interval() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let planting = planted(&app.lead, &stead, "2027-03-20").await;
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let body = thousandths("2027-04-15", &[31, 29, 32]);
    let made = app.grower.post(&path, &body).await.assert_status(201);
    let found = made.json();
    assert_eq!(made.header("location"), format!("/v1/stand-counts/{}", made.id()));
    assert_eq!((&found["planting_id"], &found["count"]), (&json!(planting), &body["count"]));
    let population = &found["population"];
    assert!(near(&population["value"]["value"], 30_666.8), "{population}");
    assert!(near(&population["low"]["value"], 26_872.2), "{population}");
    assert!(near(&population["high"]["value"], 34_461.4), "{population}");
    assert_eq!((&found["units"], &found["unit_count"]), (&json!("places"), &json!(3)));
    assert!(near(&found["emergence"]["value"]["value"], 90.196), "{found}");
    assert_eq!(codes(&found), ["few_counts"], "5 or 7 are published for 40 ac");
    let read = app.read_only.get(&format!("/v1/stand-counts/{}", made.id())).await;
    assert_eq!(read.assert_status(200).json(), found);
    let si = app.lead.get(&format!("/v1/stand-counts/{}?units=si", made.id())).await.json();
    assert_eq!(si["population"]["value"]["unit"], "1/har");
    let again = app.lead.post(&path, &body).await.assert_status(200).json();
    assert_eq!(again["id"], found["id"]);
    let list = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!(list["items"].as_array().expect("items").len(), 1);
}

/// University of Illinois (method) and arithmetic: 150 plants in 94 ft of 30 in rows are 27,804.
#[tokio::test]
async fn wheel_and_hoop_are_counted_by_their_own_rule() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    planted(&app.lead, &stead, "2027-03-20").await;
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let wheel = json!({"counted_on": "2027-04-15", "count": {"kind": "wheel", "counts": [
        {"place": 1, "row": 2, "distance": {"value": 94, "unit": "[ft_i]"}}
    ]}});
    let found = app.lead.post(&path, &wheel).await.assert_status(201).json();
    assert!(near(&found["population"]["value"]["value"], 27_804.4), "{found}");
    assert!(found["population"].get("low").is_none(), "one count can't tell");
    assert!(codes(&found).contains(&"one_count"), "{found}");
    let hoop = json!({"counted_on": "2027-04-15", "count": {
        "kind": "hoop", "diameter": {"value": 30, "unit": "[in_i]"},
        "counts": [{"place": 1, "plants": 4}, {"place": 1, "plants": 3}]
    }});
    let found = app.lead.post(&path, &hoop).await.assert_status(201).json();
    assert!(near(&found["population"]["value"]["value"], 3.5 * 8_874.0), "{found}");
    assert_eq!(found["units"], "counts");
    assert!(codes(&found).contains(&"one_place"), "{found}");
}

#[tokio::test]
async fn gaps_positions_and_late_plants_are_read() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    planted(&app.lead, &stead, "2027-03-20").await;
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let inches = [0.0, 6.0, 12.0, 18.0, 34.0, 40.0, 43.0, 49.0];
    let body = json!({"counted_on": "2027-04-15", "late_by_days": 14, "count": {
        "kind": "row_length", "length": {"value": 5, "unit": "[ft_i]"}, "counts": [
            {"place": 1, "plants": 8, "late": 4, "positions": {"unit": "[in_i]", "values": inches}},
            {"place": 2, "plants": 8, "late": 4, "gaps": {"unit": "[ft_i]", "values": [1.5]}}
        ]
    }});
    let found = app.lead.post(&path, &body).await.assert_status(201).json();
    assert_eq!(found["spacing"]["spacings"], 7);
    assert!(near(&found["spacing"]["mean"]["value"], 7.0), "{found}");
    assert_eq!(found["gaps"]["count"], 2, "one measured, one seen in the positions");
    assert_eq!(found["gaps"]["loss_high"], json!({"value": 2.0, "unit": "%"}));
    assert!(near(&found["late_share"]["value"], 50.0));
    // Ontario Agronomy Guide: half the stand 14 days late, 12 %.
    assert_eq!(found["uneven"]["loss_low"], json!({"value": 12.0, "unit": "%"}));
    assert_eq!(found["uneven"]["loss_high"], json!({"value": 12.0, "unit": "%"}));
}

#[tokio::test]
async fn what_can_not_be_is_refused_by_member() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let body = thousandths("2027-04-15", &[31, 29]);
    app.lead.post(&path, &body).await.assert_problem(409, "wrong_state");
    planted(&app.lead, &stead, "2027-03-20").await;
    let other = Farmstead::make(&app.lead, "Other").await;
    let theirs = planted(&app.lead, &other, "2027-03-20").await;
    let change = |pointer: &str, value: Value| {
        let mut changed = body.clone();
        match changed.pointer_mut(pointer) {
            Some(there) => *there = value,
            None => {
                let (parent, name) = pointer.rsplit_once('/').expect("a name");
                changed.pointer_mut(parent).expect("a parent")[name] = value;
            }
        }
        changed
    };
    let at = "/count/counts/0";
    for (pointer, value, member) in [
        ("/counted_on", json!("2027-04-21"), "/counted_on"),
        ("/counted_on", json!("2027-03-22"), "/counted_on"),
        ("/planting_id", json!(theirs), "/planting_id"),
        ("/planting_id", json!(other.field), "/planting_id"),
        ("/count/counts/0/row", json!(9), "/count/counts/0/row"),
        ("/count/counts/1/place", json!(0), "/count/counts/1/place"),
        ("/count/length", json!({"value": 0, "unit": "[ft_i]"}), "/count/length"),
        ("/count/counts/0/late", json!(32), "/count/counts/0/late"),
        ("/late_by_days", json!(0), "/late_by_days"),
        (
            "/count/counts/0/gaps",
            json!({"unit": "[ft_i]", "values": [-1]}),
            "/count/counts/0/gaps/values/0",
        ),
        (
            "/count/counts/0/gaps",
            json!({"unit": "[ft_i]", "values": [10, 9]}),
            "/count/counts/0/gaps/values",
        ),
        (
            "/count/counts/0/positions",
            json!({"unit": "[in_i]", "values": [1, 2]}),
            "/count/counts/0/positions/values",
        ),
        (
            at,
            json!({"place": 1, "plants": 2, "positions": {"unit": "[in_i]", "values": [9, 2]}}),
            "/count/counts/0/positions/values/1",
        ),
        ("/count/counts/1", body["count"]["counts"][0].clone(), "/count/counts/1/row"),
        ("/count/counts", json!([]), "/count/counts"),
        (
            "/count",
            json!({"kind": "hoop", "diameter": {"value": 0, "unit": "[in_i]"}, "counts": [{"place": 1, "plants": 3}]}),
            "/count/diameter",
        ),
    ] {
        let answer = app.lead.post(&path, &change(pointer, value)).await;
        answer.assert_problem(422, "invalid_request").assert_member(member);
    }
    let list = app.lead.get(&path).await.json();
    assert_eq!(list["items"], json!([]));
    app.read_only.post(&path, &body).await.assert_status(403);
}

#[tokio::test]
async fn a_count_at_the_wrong_time_is_kept_and_said() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    planted(&app.lead, &stead, "2027-04-01").await;
    let farm = format!("/v1/farms/{}/temperatures", stead.farm);
    app.lead.post(&farm, &json!({"days": steady(2, 19)})).await.assert_status(200);
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let early = thousandths("2027-04-05", &[3, 1]);
    let found = app.lead.post(&path, &early).await.assert_status(201).json();
    assert!(codes(&found).contains(&"before_emergence"), "{found}");
    let soon = thousandths("2027-04-16", &[30, 31, 29]);
    let found = app.lead.post(&path, &soon).await.assert_status(201).json();
    assert!(codes(&found).contains(&"before_window"), "{found}");
    let many = thousandths("2027-04-17", &[52, 53, 51]);
    let found = app.lead.post(&path, &many).await.assert_status(201).json();
    assert!(codes(&found).contains(&"more_than_seeds"), "{found}");
}

#[tokio::test]
async fn a_grower_sees_its_own_and_the_timeline_tells() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    planted(&app.grower, &stead, "2027-03-20").await;
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let id = app.grower.create(&path, &thousandths("2027-04-15", &[31, 29, 32])).await;
    app.stranger.get(&format!("/v1/stand-counts/{id}")).await.assert_status(404);
    let told = app.grower.get(&format!("/v1/fields/{}/timeline", stead.field)).await.json();
    let items = told["items"].as_array().expect("items");
    let of = |kind: &str| items.iter().find(|it| it["kind"] == kind).expect(kind);
    assert_eq!(of("planted")["at"], "2027-03-20T00:00:00Z");
    let summary = of("planted")["summary"].as_str().expect("words");
    assert!(summary.starts_with("Corn, 40 ac, seeded at 34000 per ac, 2 in deep"), "{summary}");
    let summary = of("stand_counted")["summary"].as_str().expect("words");
    assert!(summary.contains("% of the seed"), "{summary}");
}
