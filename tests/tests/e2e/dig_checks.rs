//! Dig checks: what was found, what it says, and who may send it.

use api::entities::{adjustments, dig_checks};
use sea_orm::{ConnectionTrait, EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

async fn issued(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await
}

fn digs(stead: &Farmstead) -> String {
    format!("/v1/recommendations/{}/dig-checks", stead.recommendation)
}

/// Rows with nothing but depths, in inches.
fn depths(rows: &[(u16, &[f64])]) -> Value {
    let row = |(row, values): &(u16, &[f64])| json!({"row": row, "seed_depths": {"unit": "[in_i]", "values": values}});
    let rows: Vec<Value> = rows.iter().map(row).collect();
    json!({"dug_at": "2027-04-20T11:45:00Z", "rows": rows})
}

fn inches(it: &Value) -> f64 {
    assert_eq!(it["unit"], "[in_i]", "{it}");
    it["value"].as_f64().expect("a number")
}

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted} within {within}");
}

async fn stored(app: &TestApp) -> (u64, u64) {
    let db = &app.state().db;
    let digs = dig_checks::Entity::find().count(db).await.expect("digs");
    let changes = adjustments::Entity::find().count(db).await.expect("adjustments");
    (digs, changes)
}

#[tokio::test]
async fn a_dig_is_answered_with_one_change_and_its_reasons() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let sent = app.grower.post(&digs(&stead), &Farmstead::dig_body()).await.assert_status(201);
    let dig = sent.json();
    let path = format!("/v1/dig-checks/{}", sent.id());
    assert_eq!(sent.header("location"), path);
    assert_eq!(dig["recommendation_id"], stead.recommendation.as_str());
    assert_eq!(dig["created_by"], app.grower.account_id.as_str());
    let sent = Farmstead::dig_body();
    for (kept, sent) in dig["observation"]["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .zip(sent["rows"].as_array().expect("rows"))
    {
        assert_eq!(kept["seed_depths"], sent["seed_depths"]);
        assert_eq!((&kept["row"], &kept["wall"]), (&sent["row"], &sent["wall"]));
    }
    assert_eq!(dig["observation"]["settings"], sent["settings"]);

    let depth = &dig["depth"];
    assert_eq!((&depth["seeds"], &depth["planter"]["rows"]), (&json!(20), &json!(4)));
    near(inches(&depth["mean"]), 1.55, 1e-9);
    assert_eq!(depth["settled"]["side"], "shallow");
    assert_eq!(depth["within"]["share"], json!(0.0), "all lie 3/8 in or more off 2 in");
    let first = &dig["findings"][0];
    assert_eq!((&first["cause"], &first["class"]), (&json!("too_little_force"), &json!("setting")));
    assert!(!first["evidence_for"].as_array().expect("list").is_empty());
    assert!(first["evidence_against"].is_array() && first["source"].is_string());

    // 30 psi on a line through 120 lbf at 15 psi and 420 lbf at 60 psi is 220 lbf.
    let change = &dig["proposal"]["change"];
    assert_eq!(change["kind"], "down_force");
    assert_eq!(change["from"], json!({"value": 220.0, "unit": "[lbf_av]"}));
    let by = change["by"]["value"].as_f64().expect("a number");
    assert!(by > 0.0 && by <= 51.0, "{by} lbf is no careful step");
    assert_eq!(change["set_on_planter"]["kind"], "pressure");
    let words = dig["proposal"]["words"].as_str().expect("words");
    assert!(words.starts_with("Raise the down force on every row from 220 to "), "{words}");
    assert!(words.contains("lbf: set ") && words.ends_with(" psi."), "{words}");
    for list in ["because", "next_dig", "cautions"] {
        assert!(!dig["proposal"][list].as_array().expect("list").is_empty(), "{list}");
    }
    assert!(dig["adjustment_id"].is_string());
    let missing = dig["missing"].as_array().expect("list");
    assert!(missing.iter().any(|it| it["what"] == "depth of the lever"), "{missing:?}");
    let assumed = dig["assumed"].as_array().expect("list");
    assert!(assumed.iter().any(|it| it["what"] == "depth of the lever: as advised"), "{assumed:?}");
    assert!(dig["trace"].as_array().expect("list").len() >= 2);
    assert_eq!(app.grower.get(&path).await.json(), dig);
}

#[tokio::test]
async fn the_interval_rests_on_rows_and_not_on_seeds() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    // Row means 1.85, 1.95 and 2.05 in: mean 1.95, s 0.1, and Student's t for 2 degrees of freedom is
    // 4.303, so the half width is 4.303 x 0.1 / sqrt(3) = 0.248 in.
    let body = depths(&[
        (2, &[1.85, 1.85, 1.85, 1.85]),
        (4, &[1.95, 1.95, 1.95, 1.95]),
        (6, &[2.05, 2.05, 2.05, 2.05]),
    ]);
    let dig = app.advisor.post(&digs(&stead), &body).await.assert_status(201).json();
    let planter = &dig["depth"]["planter"];
    near(inches(&planter["mean"]), 1.95, 1e-9);
    near(inches(&planter["low"]), 1.702, 0.005);
    near(inches(&planter["high"]), 2.198, 0.005);
    assert_eq!(dig["depth"]["settled"]["settled"], json!(false), "it reaches over 1.75 in");
    assert!(dig["depth"]["settled"]["more_rows"].as_u64().expect("rows") >= 1);
    assert_eq!(dig["proposal"]["change"]["kind"], "dig_more");
}

#[tokio::test]
async fn a_part_of_a_dig_is_taken_and_says_what_is_missing() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    for rows in [
        json!([{"row": 1, "wall": "crumbly"}]),
        json!([{"row": 1, "spacings": {"unit": "[in_i]", "values": [6.0]}}]),
        json!([{"row": 8, "seed_depths": {"unit": "mm", "values": [50.0]}}, {"row": 2}]),
    ] {
        let body = json!({"dug_at": "2027-04-20T11:45:00Z", "rows": rows});
        let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
        assert_eq!(dig["proposal"]["change"]["kind"], "dig_more", "{rows}");
        assert!(dig["missing"].as_array().expect("list").len() > 5, "{rows}");
        assert!(dig.get("adjustment_id").is_none(), "nothing is to be decided: {rows}");
        assert_eq!(dig.get("depth").is_some(), rows[0].get("seed_depths").is_some());
    }
    assert_eq!(stored(&app).await, (3, 0));
}

#[tokio::test]
async fn a_good_dig_says_to_go_on() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut body =
        depths(&[(2, &[2.0, 1.95, 2.05]), (4, &[2.0, 2.05, 1.95]), (6, &[1.95, 2.0, 2.0])]);
    for row in body["rows"].as_array_mut().expect("rows") {
        row["gauge_wheels"] = json!("turn_with_effort");
    }
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    assert_eq!(dig["findings"], json!([]));
    assert_eq!(dig["proposal"]["change"], json!({"kind": "keep_as_is"}));
    assert_eq!(dig["depth"]["settled"]["side"], "inside");
    assert_eq!(stored(&app).await, (1, 0));
}

#[tokio::test]
async fn only_what_is_issued_and_counts_is_dug_behind() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let body = Farmstead::dig_body();
    app.advisor.post(&digs(&stead), &body).await.assert_problem(409, "wrong_state");
    app.grower.post(&digs(&stead), &body).await.assert_problem(404, "not_found");
    stead.issue(&app.lead).await;
    app.grower.post(&digs(&stead), &body).await.assert_status(201);
    let sheet = format!("/v1/recommendations/{}", stead.recommendation);
    let acknowledge = format!("{sheet}/acknowledge");
    let seen = app.grower.send("POST", &acknowledge, &[("if-match", "*")], None).await;
    seen.assert_status(200);
    app.grower.post(&digs(&stead), &body).await.assert_status(201);

    let next = app.lead.create(&format!("{sheet}/revise"), &json!({})).await;
    app.grower.post(&digs(&stead), &body).await.assert_status(201);
    let next = Farmstead { recommendation: next, ..stead.clone() };
    next.issue(&app.lead).await;
    for user in [&app.grower, &app.advisor] {
        user.post(&digs(&stead), &body).await.assert_problem(409, "wrong_state");
        user.post(&digs(&next), &body).await.assert_status(201);
    }
    assert_eq!(stored(&app).await.0, 5);
}

#[tokio::test]
async fn a_grower_digs_and_reads_only_his_own() {
    let app = TestApp::start().await;
    let neighbour = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let theirs = Farmstead::of_grower(&app.lead, &neighbour).await.with_sheet(&app.lead).await;
    let body = Farmstead::dig_body();
    app.grower.post(&digs(&theirs), &body).await.assert_problem(404, "not_found");
    let dig = app.advisor.create(&digs(&theirs), &body).await;
    for path in [format!("/v1/dig-checks/{dig}"), digs(&theirs)] {
        app.grower.get(&path).await.assert_problem(404, "not_found");
        app.stranger.get(&path).await.assert_problem(404, "not_found");
        app.read_only.get(&path).await.assert_status(200);
    }
    app.read_only.post(&digs(&theirs), &body).await.assert_problem(403, "forbidden");
}

#[tokio::test]
async fn each_bad_reading_is_named() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let good = Farmstead::dig_body();
    let cases: &[(&str, Value, &str)] = &[
        ("/rows/2/seed_depths/values/0", json!(-0.1), "/rows/2/seed_depths/values/0"),
        ("/rows/2/seed_depths/values/4", json!(6.01), "/rows/2/seed_depths/values/4"),
        ("/rows/0/seed_depths/values/1", json!("deep"), "/rows/0/seed_depths/values/1"),
        ("/rows/0/seed_depths/unit", json!("[psi]"), "/rows/0/seed_depths/values/0"),
        (
            "/rows/1/spacings",
            json!({"unit": "[in_i]", "values": [6, 121]}),
            "/rows/1/spacings/values/1",
        ),
        ("/rows/1/row", json!(2), "/rows/1/row"),
        ("/rows/1/row", json!(9), "/rows/1/row"),
        ("/rows/1/row", json!(0), "/rows/1/row"),
        ("/rows/1/row", json!(-1), "/rows/1/row"),
        ("/rows/3/gauge_wheels", json!("stuck"), "/rows/3/gauge_wheels"),
        (
            "/rows/3/logged_load",
            json!({"mean": {"value": -1, "unit": "N"}}),
            "/rows/3/logged_load/mean",
        ),
        ("/rows/3/colour", json!("brown"), "/rows/3/colour"),
        (
            "/rows/3/seed_depths",
            json!({"unit": "[in_i]", "values": vec![2.0; 201]}),
            "/rows/3/seed_depths/values",
        ),
        ("/rows", json!([]), "/rows"),
        ("/rows", json!([{"row": 1}, {"row": 2}]), "/rows"),
        ("/rows", json!(vec![json!({"row": 1}); 65]), "/rows"),
        ("/dug_at", json!("2027-04-21T12:00:01Z"), "/dug_at"),
        ("/dug_at", json!("1999-12-31T00:00:00Z"), "/dug_at"),
        ("/dug_at", json!("yesterday"), "/dug_at"),
        ("/place", json!("a\nb"), "/place"),
        ("/notes", json!("x".repeat(4001)), "/notes"),
        ("/settings/speed", json!({"value": 16, "unit": "[mi_i]/h"}), "/settings/speed"),
        ("/settings/box_fill", json!({"value": 101, "unit": "%"}), "/settings/box_fill"),
        ("/settings/down_force", json!({"value": 220, "unit": "[lbf_av]"}), "/settings/pressure"),
        ("/settings/notch", json!("2"), "/settings/notch"),
        ("/settings/lever_notch", json!(6), "/settings/lever_notch"),
    ];
    for (place, value, pointer) in cases {
        let mut body = good.clone();
        let (parent, name) = place.rsplit_once('/').expect("a member");
        match body.pointer_mut(parent).expect("a parent") {
            Value::Array(list) => list[name.parse::<usize>().expect("a place")] = value.clone(),
            object => object[name] = value.clone(),
        }
        let answer = app.grower.post(&digs(&stead), &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    assert_eq!(stored(&app).await, (0, 0));
}

#[tokio::test]
async fn all_that_is_wrong_is_said_at_once() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut body = Farmstead::dig_body();
    body["rows"][0]["seed_depths"]["values"] = json!([1.5, 99.0]);
    body["rows"][3]["row"] = json!(3);
    body["settings"]["speed"] = json!({"value": 40, "unit": "km/h"});
    let answer = app.grower.post(&digs(&stead), &body).await;
    let answer = answer.assert_problem(422, "invalid_request");
    let speed = answer.assert_member("/settings/speed");
    assert_eq!(speed["given"], "40 km/h");
    assert!(speed["allowed"].as_str().is_some_and(|text| text.ends_with("km/h")), "{speed}");
    answer.assert_member("/rows/0/seed_depths/values/1");
    answer.assert_member("/rows/3/row");
    assert_eq!(answer.json()["errors"].as_array().map(Vec::len), Some(3));
}

#[tokio::test]
async fn a_spring_and_a_lever_are_reported_by_their_notches() {
    let app = TestApp::start().await;
    let mut stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut planter = Farmstead::planter_body(&stead.grower);
    planter["name"] = json!("Springs");
    planter["makeup"]["down_force"] = json!({"kind": "spring", "notches": [
        {"label": "1", "force": {"value": 0, "unit": "[lbf_av]"}},
        {"label": "2", "force": {"value": 125, "unit": "[lbf_av]"}},
        {"label": "3", "force": {"value": 250, "unit": "[lbf_av]"}}
    ]});
    planter["makeup"]["depth_lever"] = json!({
        "first": {"value": 0.5, "unit": "[in_i]"}, "step": {"value": 0.25, "unit": "[in_i]"}, "notches": 14
    });
    stead.planter = app.lead.create("/v1/planters", &planter).await;
    let stead = stead.with_sheet(&app.lead).await;
    let mut body = Farmstead::dig_body();
    body["settings"] = json!({"notch": "2", "lever_notch": 7});
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    let change = &dig["proposal"]["change"];
    assert_eq!(change["from"], json!({"value": 125.0, "unit": "[lbf_av]"}));
    assert_eq!(change["to"], json!({"value": 250.0, "unit": "[lbf_av]"}), "one notch at a time");
    let assumed = dig["assumed"].to_string();
    assert!(!assumed.contains("lever") && !assumed.contains("down force in use"), "{assumed}");
    for (settings, pointer) in [
        (json!({"notch": "4"}), "/settings/notch"),
        (json!({"pressure": {"value": 30, "unit": "[psi]"}}), "/settings/pressure"),
        (json!({"lever_notch": 15}), "/settings/lever_notch"),
        (json!({"lever_notch": 0}), "/settings/lever_notch"),
        (
            json!({"lever_notch": 6, "lever_depth": {"value": 2, "unit": "[in_i]"}}),
            "/settings/lever_notch",
        ),
    ] {
        body["settings"] = settings;
        let answer = app.grower.post(&digs(&stead), &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn a_pressure_beyond_the_calibration_is_not_made_into_a_force() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut body = Farmstead::dig_body();
    body["settings"]["pressure"] = json!({"value": 75, "unit": "[psi]"});
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    let ignored = dig["ignored"].as_array().expect("list");
    assert!(ignored.iter().any(|it| it["what"] == "pressure in use"), "{ignored:?}");
    assert!(dig["assumed"].to_string().contains("down force in use: as advised"));
    assert_eq!(dig["observation"]["settings"]["pressure"]["value"], json!(75.0));
}

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

    // Another series, so that this dig is a first one too: the same readings in metric units.
    let other = issued_again(&app, &stead).await;
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

async fn issued_again(app: &TestApp, stead: &Farmstead) -> Farmstead {
    stead.clone().with_sheet(&app.lead).await
}

#[tokio::test]
async fn digs_of_the_series_add_up_to_trust() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut counted = Vec::new();
    for _ in 0..2 {
        let dig = app.grower.post(&digs(&stead), &Farmstead::dig_body()).await;
        counted.push(digs_trusted(&dig.assert_status(201).json()));
    }
    let sheet = format!("/v1/recommendations/{}", stead.recommendation);
    let next = app.lead.create(&format!("{sheet}/revise"), &json!({})).await;
    let next = Farmstead { recommendation: next, ..stead.clone() };
    next.issue(&app.lead).await;
    let dig = app.grower.post(&digs(&next), &Farmstead::dig_body()).await.assert_status(201);
    counted.push(digs_trusted(&dig.json()));
    let other = issued_again(&app, &stead).await;
    let dig = app.grower.post(&digs(&other), &Farmstead::dig_body()).await.assert_status(201);
    counted.push(digs_trusted(&dig.json()));
    assert_eq!(counted, [1.0, 2.0, 3.0, 1.0], "of the series, not of the revision or the field");
}

/// The symbol n of the step that trusts the correction.
fn digs_trusted(dig: &Value) -> f64 {
    let steps = dig["trace"].as_array().expect("steps");
    let step = steps.iter().find(|it| it["step"] == "correction as far as the digs are trusted");
    let inputs = step.expect("the step")["inputs"].as_array().expect("inputs");
    let n = inputs.iter().find(|it| it["symbol"] == "n").expect("n");
    n["value"].as_f64().expect("a number")
}

#[tokio::test]
async fn the_digs_of_a_recommendation_come_in_pages() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut ids = Vec::new();
    for _ in 0..3 {
        ids.push(app.grower.create(&digs(&stead), &Farmstead::dig_body()).await);
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
