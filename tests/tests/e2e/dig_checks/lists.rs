//! Units, pages, and what is kept together.

use sea_orm::ConnectionTrait;
use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{dig_at, digs, issued, near, stored};

#[tokio::test]
async fn units_of_the_readings_and_of_the_answer_change_nothing_else() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let us = app.grower.post(&digs(&stead), &Farmstead::dig_body()).await.assert_status(201).json();
    let path = format!("/v1/dig-checks/{}", us["id"].as_str().expect("id"));
    let si = app.grower.get(&format!("{path}?units=si")).await.assert_status(200).json();
    assert_eq!(si["observation"], us["observation"], "what was entered stays");
    let (from, to) = (&us["proposal"]["change"], &si["proposal"]["change"]);
    assert_eq!(from["kind"], to["kind"]);
    for name in ["from", "to", "by"] {
        assert_eq!(to[name]["unit"], "N");
        let newtons = from[name]["value"].as_f64().expect("lbf") * 4.448_221_6;
        near(to[name]["value"].as_f64().expect("N"), newtons, 3.0);
    }
    assert_eq!(si["depth"]["mean"], json!({"value": 39.4, "unit": "mm"}), "1.55 in");
    assert!(si["proposal"]["words"].as_str().expect("words").contains(" N: set "));

    // Another practice, so that this dig is a first one too: the same readings in metric units.
    let app = TestApp::start().await;
    let other = issued(&app).await;
    let mut metric = Farmstead::dig_body();
    for row in metric["rows"].as_array_mut().expect("rows") {
        let values = row["seed_depths"]["values"].as_array().expect("values");
        let values: Vec<f64> =
            values.iter().map(|it| it.as_f64().expect("number") * 25.4).collect();
        row["seed_depths"] = json!({"unit": "mm", "values": values});
    }
    metric["settings"]["pressure"] = json!({"value": 30.0 * 6.894_757_293_168, "unit": "kPa"});
    metric["settings"]["speed"] = json!({"value": 5.0 * 1.609_344, "unit": "km/h"});
    let metric = app.grower.post(&digs(&other), &metric).await.assert_status(201).json();
    for member in ["depth", "findings", "proposal", "resistance", "assumed", "missing", "ignored"] {
        assert_eq!(metric[member], us[member], "{member}");
    }
}

#[tokio::test]
async fn the_digs_of_a_recommendation_come_in_pages() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut ids = Vec::new();
    for minute in 0..3 {
        ids.push(app.grower.create(&digs(&stead), &dig_at(minute)).await);
    }
    let first = app.grower.get(&format!("{}?limit=2&units=si", digs(&stead))).await;
    let first = first.assert_status(200);
    let link = first.header("link").to_owned();
    let next = link.strip_prefix('<').and_then(|it| it.split_once('>')).expect("a link").0;
    let second = app.grower.get(next).await.assert_status(200).json();
    let mut found = Vec::new();
    for page in [first.json(), second.clone()] {
        found.extend(page["items"].as_array().expect("items").clone());
    }
    assert!(second.get("next_cursor").is_none());
    let found_ids: Vec<_> = found.iter().map(|it| it["id"].as_str().expect("id")).collect();
    assert_eq!(found_ids, ids);
    for dig in &found {
        assert_eq!(dig["depth"]["mean"]["unit"], "mm");
        assert!(dig["adjustment_id"].is_string());
        let path = format!("/v1/dig-checks/{}?units=si", dig["id"].as_str().expect("id"));
        assert_eq!(&app.grower.get(&path).await.json(), dig);
    }
}

#[tokio::test]
async fn a_dig_whose_adjustment_can_not_be_stored_is_not_stored_either() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let db = &app.state().db;
    db.execute_unprepared("ALTER TABLE adjustments RENAME TO elsewhere").await.expect("renamed");
    let dig = app.grower.post(&digs(&stead), &Farmstead::dig_body()).await;
    dig.assert_problem(500, "internal");
    db.execute_unprepared("ALTER TABLE elsewhere RENAME TO adjustments").await.expect("renamed");
    assert_eq!(stored(&app).await, (0, 0));
    app.grower.post(&digs(&stead), &Farmstead::dig_body()).await.assert_status(201);
    assert_eq!(stored(&app).await, (1, 1));
}
