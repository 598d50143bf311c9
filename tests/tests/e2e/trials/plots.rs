//! What is found on the plots is noted once.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{id, in_strips, on_rows, plot_of, reading, running};
use crate::stands::{planted, thousandths};

#[tokio::test]
async fn a_plot_is_noted_once_and_corrected_only_on_purpose() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    let first = reading(3, "emergence", "%", &[92.0, 95.0, 90.0]);
    let noted = app.grower.post(&path, &first).await.assert_status(201).json();
    assert_eq!(noted["readings"][0]["mean"], 92.3333);
    assert_eq!(noted["readings"][0]["values"], json!({"unit": "%", "values": [92.0, 95.0, 90.0]}));
    // A phone that sends again changes nothing.
    let again = app.grower.post(&path, &first).await.assert_status(200).json();
    assert_eq!(again, noted);
    let other = reading(3, "emergence", "%", &[70.0]);
    let refused = app.grower.post(&path, &other).await.assert_problem(409, "already_exists");
    let detail = refused.json()["detail"].to_string();
    assert!(detail.contains("92, 95, 90 %") && detail.contains("correction"), "{detail}");
    let mut correction = other.clone();
    correction["correction"] = json!(true);
    let corrected = app.grower.post(&path, &correction).await.assert_status(201).json();
    assert_eq!(corrected["readings"][0]["revision"], 2);
    assert_eq!(corrected["readings"][0]["mean"], 70.0);
    let all = app.grower.get(&path).await.assert_status(200).json();
    assert_eq!(all["plots"].as_array().expect("plots").len(), 10);
    assert_eq!(all["plots"][2], corrected);
    app.read_only.post(&path, &other).await.assert_problem(403, "forbidden");
    app.records_system.post(&path, &reading(4, "emergence", "%", &[80.0])).await.assert_status(201);
}

#[tokio::test]
async fn what_can_not_be_is_refused_by_its_member() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let other = Farmstead::make(&app.lead, "A neighbour").await;
    let other = other.with_sheet(&app.lead).await.with_dig(&app.lead).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    let linked = json!({"plot": 1, "readings": [{
        "response": "furrow_closed", "values": {"unit": "%", "values": [80]},
        "dig_check_ids": [other.dig_check]
    }]});
    planted(&app.lead, &other, "2027-03-20").await;
    let counts = thousandths("2027-04-15", &[31, 29, 32]);
    let theirs =
        app.lead.create(&format!("/v1/fields/{}/stand-counts", other.field), &counts).await;
    let mut counted = reading(1, "emergence", "%", &[90.0]);
    counted["readings"][0]["stand_count_ids"] = json!([theirs]);
    for (body, member) in [
        (reading(11, "emergence", "%", &[90.0]), "/plot"),
        (reading(1, "yield", "%", &[90.0]), "/readings/0/response"),
        (reading(1, "emergence", "%", &[90.0, 104.0]), "/readings/0/values/values/1"),
        (reading(1, "emergence", "%", &[-3.0]), "/readings/0/values/values/0"),
        (reading(1, "emergence", "[in_i]", &[3.0]), "/readings/0/values/values/0"),
        (reading(1, "emergence", "%", &[]), "/readings/0/values/values"),
        (json!({"plot": 1, "as_planted": "iron"}), "/as_planted"),
        (
            json!({"plot": 1, "lost": "flood", "readings": reading(1, "emergence", "%", &[1.0])["readings"]}),
            "/lost",
        ),
        (json!({"plot": 1}), ""),
        (json!({"plot": 1, "lost": "flood", "observed_on": "2031-01-01"}), "/observed_on"),
        (
            json!({"plot": 1, "harvest": {"weight": {"value": 100, "unit": "kg"}, "moisture": {"value": 15, "unit": "%"}}}),
            "/harvest",
        ),
        (linked, "/readings/0/dig_check_ids/0"),
        (counted, "/readings/0/stand_count_ids/0"),
    ] {
        let answer = app.grower.post(&path, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(member);
    }
    let all = app.grower.get(&path).await.json();
    assert!(all["plots"].as_array().expect("plots").iter().all(|it| it["readings"] == json!([])));
}

#[tokio::test]
async fn a_dig_in_the_field_can_be_named() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let stead = stead.with_sheet(&app.lead).await.with_dig(&app.lead).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    let linked = json!({"plot": 1, "readings": [{
        "response": "furrow_closed", "values": {"unit": "%", "values": [80]},
        "dig_check_ids": [stead.dig_check]
    }]});
    let noted = app.grower.post(&path, &linked).await.assert_status(201).json();
    assert_eq!(noted["readings"][0]["dig_check_ids"], json!([stead.dig_check]));
}

#[tokio::test]
async fn a_lost_plot_and_a_plot_planted_otherwise_are_kept_as_that() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    let plot = plot_of(&trial, 1, "spiked wheels");
    let told = json!({"plot": plot, "as_planted": "Smooth wheels"});
    let kept = app.grower.post(&path, &told).await.assert_status(201).json();
    assert_eq!(kept["treatment"], "smooth wheels");
    assert!(
        kept["notices"][0].as_str().is_some_and(|it| it.contains("as it was planted")),
        "{kept}"
    );
    let lost = json!({"plot": 5, "lost": "washed out"});
    let kept = app.grower.post(&path, &lost).await.assert_status(201).json();
    assert_eq!(kept["lost"], "washed out");
    let late = reading(5, "emergence", "%", &[90.0]);
    let refused = app.grower.post(&path, &late).await.assert_problem(409, "already_exists");
    assert!(refused.json()["detail"].to_string().contains("washed out"));
    let mut late = late;
    late["correction"] = json!(true);
    let back = app.grower.post(&path, &late).await.assert_status(201).json();
    assert!(back.get("lost").is_none(), "{back}");
}

#[tokio::test]
async fn a_yield_follows_from_what_was_weighed() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = running(&app.lead, &in_strips(&stead, 4)).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    let weighed = json!({"plot": 1, "harvest": {
        "weight": {"value": 3200, "unit": "[lb_av]"}, "moisture": {"value": 18, "unit": "%"}
    }});
    let noted = app.grower.post(&path, &weighed).await.assert_status(201).json();
    let reading = &noted["readings"][0];
    // By hand: 6 of 8 rows of 30 in, 800 ft; 3200 x 0.82 / 0.845 / 56 bu on 6 x 2.5 x 800 sq ft.
    let acres = 6.0 * 2.5 * 800.0 / 43_560.0;
    let by_hand = 3200.0 * 0.82 / 0.845 / 56.0 / acres;
    let mean = reading["mean"].as_f64().expect("a yield");
    assert!((mean / by_hand - 1.0).abs() < 1e-4, "{mean} against {by_hand}");
    assert_eq!(reading["unit"], "[bu_us]/[acr_us]");
    assert!(reading["steps"].to_string().contains("from memory"), "{reading}");
    let wet = json!({"plot": 2, "harvest": {
        "weight": {"value": -5, "unit": "[lb_av]"}, "moisture": {"value": 80, "unit": "%"}
    }});
    let bad = app.grower.post(&path, &wet).await.assert_problem(422, "invalid_request");
    bad.assert_member("/harvest/weight");
    bad.assert_member("/harvest/moisture");
}

#[tokio::test]
async fn two_phones_at_once_leave_one_entry() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    let (one, two) = (reading(1, "emergence", "%", &[90.0]), reading(1, "emergence", "%", &[80.0]));
    let (one, two) = tokio::join!(app.grower.post(&path, &one), app.lead.post(&path, &two));
    let mut statuses = [one.status, two.status];
    statuses.sort_unstable();
    assert_eq!(statuses, [201, 409], "{} {}", one.text, two.text);
}
