//! What can't be is refused: the member, the value, what is allowed, and why.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{dig_at, digs, issued, notices, stored};

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
        ("/rows/3/stretch", json!({"value": 5, "unit": "[in_i]"}), "/rows/3/stretch"),
        ("/rows/3/stretch", json!({"value": 5, "unit": "[psi]"}), "/rows/3/stretch"),
        ("/rows/3/stretch", json!(null), "/rows/3/stretch"),
        ("/rows_as_planned", json!("yes"), "/rows_as_planned"),
        ("/rows", json!([]), "/rows"),
        ("/rows", json!(null), "/rows"),
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
async fn a_row_that_the_planter_does_not_have_is_named_with_those_it_has() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut body = Farmstead::dig_body();
    body["rows"][2]["row"] = json!(9);
    let answer = app.grower.post(&digs(&stead), &body).await;
    let row = answer.assert_problem(422, "invalid_request").assert_member("/rows/2/row");
    assert_eq!((&row["given"], &row["allowed"]), (&json!("9"), &json!("1 to 8")));
    assert_eq!(row["detail"], "row 9 is not on this planter: rows are counted from 1 to 8.");
}

#[tokio::test]
async fn a_depth_in_the_wrong_unit_is_refused_with_a_guess() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    for (value, unit, guess) in [
        (2.0, "m", Some("did you mean 2 in?")),
        (45.0, "[in_i]", Some("did you mean 45 mm?")),
        (1.75, "[ft_i]", Some("did you mean 1.75 in?")),
        (3.0, "m", Some("did you mean 3 in or 3 cm?")),
        (17.5, "[in_i]", None),
        (-2.0, "[in_i]", None),
    ] {
        let mut body = Farmstead::dig_body();
        body["rows"][1]["seed_depths"] = json!({"unit": unit, "values": [0.05, value]});
        let answer = app.grower.post(&digs(&stead), &body).await;
        let answer = answer.assert_problem(422, "invalid_request");
        let depth = answer.assert_member("/rows/1/seed_depths/values/1");
        assert_eq!(depth["given"], format!("{value} {unit}"));
        assert!(depth["allowed"].as_str().is_some_and(|it| it.ends_with(unit)), "{depth}");
        assert!(depth["why"].is_string(), "{depth}");
        let detail = depth["detail"].as_str().expect("words");
        assert_eq!(detail.contains("did you mean"), guess.is_some(), "{detail}");
        assert!(detail.ends_with(guess.unwrap_or(unit)), "{detail}");
    }
    let mut body = Farmstead::dig_body();
    body["settings"]["lever_depth"] = json!({"value": 45, "unit": "[in_i]"});
    body["settings"]["speed"] = json!({"value": 8, "unit": "m/s"});
    body["rows"][0]["spacings"] = json!({"unit": "[in_i]", "values": [150]});
    let answer = app.grower.post(&digs(&stead), &body).await;
    let answer = answer.assert_problem(422, "invalid_request");
    for (pointer, guess) in [
        ("/settings/lever_depth", "did you mean 45 mm?"),
        ("/settings/speed", "did you mean 8 mph or 8 km/h?"),
        ("/rows/0/spacings/values/0", "did you mean 150 mm?"),
    ] {
        let detail = answer.assert_member(pointer)["detail"].clone();
        assert!(detail.as_str().is_some_and(|it| it.ends_with(guess)), "{detail}");
    }
    assert_eq!(stored(&app).await, (0, 0));
}

#[tokio::test]
async fn what_can_be_is_not_refused() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    // 5 in for 5 cm may be true. 1.75 mm may be seed on the surface, but is doubtful.
    let mut body = Farmstead::dig_body();
    body["rows"][1]["seed_depths"] = json!({"unit": "[in_i]", "values": [5.0, 5.0]});
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    assert_eq!(notices(&dig), [""; 0]);
    let mut body = dig_at(1);
    for row in body["rows"].as_array_mut().expect("rows") {
        row["seed_depths"] = json!({"unit": "mm", "values": [1.75, 2.0, 1.5]});
    }
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    assert_eq!(notices(&dig), ["unit_doubtful"]);
    assert!(dig["notices"][0]["words"].to_string().contains("Was 1.75 in"), "{dig}");
    assert!(dig.get("adjustment_id").is_none());
    let mut body = dig_at(2);
    body["rows_as_planned"] = json!(false);
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    assert_eq!(notices(&dig), ["rows_picked"]);
    assert!(dig["adjustment_id"].is_string());
}

#[tokio::test]
async fn spacings_fit_into_the_stretch_that_was_opened() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let row = |stretch: Value| {
        let mut body = dig_at(0);
        body["rows"][1]["spacings"] = json!({"unit": "[in_i]", "values": vec![6.0; 20]});
        body["rows"][1]["stretch"] = stretch;
        body
    };
    // 20 spacings of 6 in are 10 ft. Of 9.8 ft, 2 % are left for the tape: 9.996 ft.
    let answer =
        app.grower.post(&digs(&stead), &row(json!({"value": 9.8, "unit": "[ft_i]"}))).await;
    let sum = answer.assert_problem(422, "invalid_request").assert_member("/rows/1/spacings");
    assert_eq!(sum["given"], "10 [ft_i] in all");
    assert_eq!(sum["allowed"], "at most 9.996 [ft_i] in all");
    assert_eq!(
        sum["why"],
        "9.8 [ft_i] of row were opened; 2 % of that, or an inch, is left for the tape"
    );
    let detail = sum["detail"].as_str().expect("words");
    assert!(
        detail.starts_with("the spacings of row 3 add up to 120.00 in (3048 mm), but"),
        "{detail}"
    );
    assert_eq!(stored(&app).await, (0, 0));
    let fits = row(json!({"value": 9.81, "unit": "[ft_i]"}));
    let dig = app.grower.post(&digs(&stead), &fits).await.assert_status(201).json();
    assert_eq!(dig["observation"]["rows"][1]["stretch"], json!({"value": 9.81, "unit": "[ft_i]"}));
    let missing = dig["missing"].to_string();
    assert!(!missing.contains("length of row behind the spacings"), "{missing}");
    let mut without = row(json!({"value": 9.81, "unit": "[ft_i]"}));
    without["dug_at"] = json!("2027-04-20T12:01:00Z");
    without["rows"][1].as_object_mut().expect("a row").remove("stretch");
    let dig = app.grower.post(&digs(&stead), &without).await.assert_status(201).json();
    let missing = dig["missing"].to_string();
    assert!(missing.contains("length of row behind the spacings"), "{missing}");
}

#[tokio::test]
async fn a_body_that_is_no_dig_is_refused_and_never_breaks_anything() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let good = Farmstead::dig_body().to_string();
    let json = [("content-type", "application/json")];
    for (text, status) in [
        ("", 400),
        ("{", 400),
        (&good.replace("1.5,", "NaN,"), 400),
        (&good.replace("1.5,", "1e999,"), 422),
        ("null", 422),
        ("[]", 422),
        ("{}", 422),
        (&good.replace("1.5,", "null,"), 422),
        (&good.replace("1.5,", "1e300,"), 422),
        (&good.replace("\"row\":2", "\"row\":65536"), 422),
        (&good.replace("\"row\":2", "\"row\":2.5"), 422),
        (&good.replace("[in_i]", "in"), 422),
        (&good.replace("\"spin_free\"", "null"), 422),
    ] {
        let answer = app.grower.send_text("POST", &digs(&stead), &json, Some(text.into())).await;
        let code = if status == 400 { "malformed_json" } else { "invalid_request" };
        answer.assert_problem(status, code);
    }
    let mut many = Farmstead::dig_body();
    many["rows"] = json!(vec![json!({"row": 1, "wall": "shiny"}); 10_000]);
    let rows = app.grower.post(&digs(&stead), &many).await;
    let rows = rows.assert_problem(422, "invalid_request").assert_member("/rows");
    assert_eq!(
        (&rows["given"], &rows["allowed"]),
        (&json!("10000"), &json!("1 to 64, each row once"))
    );
    let mut wordy = Farmstead::dig_body();
    wordy["notes"] = json!("x".repeat(1_000_000));
    let answer = app.grower.post(&digs(&stead), &wordy).await;
    assert!([413, 422].contains(&answer.status), "{}", answer.status);
    assert_eq!(stored(&app).await, (0, 0));
}
