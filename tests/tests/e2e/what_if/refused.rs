//! What the calculations refuse, and how they say so.

use std::collections::BTreeSet;

use domain::quantity::{Kind, bounds};
use serde_json::json;
use tests::TestApp;

use super::document::Document;
use super::{CALCULATIONS, ON_REPORTS, bodies, path};

#[tokio::test]
async fn each_value_just_outside_its_bound_is_refused_with_range_and_reason() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    let mut tried = BTreeSet::new();
    for (name, body) in bodies(&document) {
        if ON_REPORTS.contains(&name) {
            // A conditions report; its bounds are tried where reports are.
            continue;
        }
        for member in document.members(&path(name), &body) {
            let row = bounds::table().into_iter().find(|row| row.name == member.bound);
            let row = row.unwrap_or_else(|| panic!("{name}: no bound {}", member.bound));
            let step = (row.most - row.least) / 1000.0;
            for value in [row.least - step, row.most + step] {
                let (bad, pointer) = member.with(&body, value, row.us);
                let answer = app.read_only.post(&path(name), &bad).await;
                let entry = answer.assert_problem(422, "invalid_request").assert_member(&pointer);
                assert_eq!(entry["why"], row.why, "{name} {pointer}");
                let allowed = entry["allowed"].as_str().expect("a range");
                let (range, unit) = allowed.rsplit_once(' ').expect("a unit");
                let (least, most) = range.split_once(" to ").expect("two ends");
                assert_eq!(unit, row.us, "{name} {pointer}");
                let near = |text: &str, end: f64| {
                    let given: f64 = text.parse().expect("a number");
                    (given - end).abs() <= 1e-5 * (row.most - row.least)
                };
                assert!(near(least, row.least) && near(most, row.most), "{name}: {entry}");
            }
            tried.insert(member.bound.clone());
        }
    }
    // A walk that finds nothing would pass too.
    assert!(tried.len() >= 25, "{tried:?}");
}

#[tokio::test]
async fn each_variant_of_each_body_was_tried() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    let mut seen = BTreeSet::new();
    for (name, body) in bodies(&document) {
        if !ON_REPORTS.contains(&name) {
            document.note_kinds(&path(name), &body, &mut seen);
        }
    }
    let all = document
        .all_kinds(CALCULATIONS.iter().filter(|n| !ON_REPORTS.contains(n)).map(|n| path(n)));
    assert_eq!(seen, all);
    assert!(all.len() >= 20, "{all:?}");
}

#[tokio::test]
async fn each_unit_that_is_unknown_or_of_another_kind_is_refused() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    for (name, body) in bodies(&document) {
        if ON_REPORTS.contains(&name) {
            continue;
        }
        for member in document.members(&path(name), &body) {
            let row = bounds::table().into_iter().find(|row| row.name == member.bound);
            let kind = row.expect("a bound").kind;
            let other = if kind == Kind::Mass { "N" } else { "kg" };
            for (unit, word) in [("furlong", "is not known"), (other, "measures")] {
                let (bad, pointer) = member.with(&body, 1.0, unit);
                let answer = app.read_only.post(&path(name), &bad).await;
                let entry = answer.assert_problem(422, "invalid_request").assert_member(&pointer);
                let detail = entry["detail"].as_str().expect("text");
                assert!(detail.contains(word), "{name} {pointer}: {entry}");
            }
        }
    }
}

#[tokio::test]
async fn each_member_that_is_needed_is_missed_and_no_other_is_taken() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    let mut tried = 0;
    for (name, body) in bodies(&document) {
        for needed in document.required(&path(name), &body) {
            let mut cut = body.clone();
            cut.as_object_mut().expect("an object").remove(&needed);
            let answer = app.read_only.post(&path(name), &cut).await;
            answer.assert_problem(422, "invalid_request").assert_member(&format!("/{needed}"));
            tried += 1;
        }
        let mut more = body.clone();
        more["colour"] = json!("green");
        let answer = app.read_only.post(&path(name), &more).await;
        answer.assert_problem(422, "invalid_request").assert_member("/colour");
        let answer = app.read_only.post(&path(name), &json!([])).await;
        answer.assert_problem(422, "invalid_request");
    }
    assert!(tried >= 40, "only {tried} members");
}

#[tokio::test]
async fn all_that_is_wrong_is_named_at_once() {
    let app = TestApp::start().await;
    let body = json!({"days": [
        {"high": {"value": 80, "unit": "[degF]"}, "low": {"value": 900, "unit": "[degF]"}},
        {"high": {"value": 60, "unit": "m"}, "low": {"value": 50, "unit": "[degF]"}},
        {"high": {"value": 40, "unit": "[degF]"}, "low": {"value": 50, "unit": "[degF]"}}
    ]});
    let answer = app.read_only.post(&path("degree-days"), &body).await;
    let answer = answer.assert_problem(422, "invalid_request");
    for pointer in ["/days/0/low", "/days/1/high", "/days/2/low"] {
        answer.assert_member(pointer);
    }
    assert_eq!(answer.json()["errors"].as_array().map(Vec::len), Some(3));
}

#[tokio::test]
async fn what_does_not_hold_is_refused_and_never_carried_further() {
    let app = TestApp::start().await;
    let q = |value: f64, unit: &str| json!({"value": value, "unit": unit});
    let point = |psi: f64, pounds: f64| json!({"pressure": q(psi, "[psi]"), "force": q(pounds, "[lbf_av]")});
    let points = json!([point(15.0, 120.0), point(60.0, 420.0)]);
    let soil = |clay: f64| json!({"clay": q(clay, "%"), "organic_carbon": q(2.0, "%"), "bulk_density": q(1.3, "g/cm3")});
    for (name, body, pointer) in [
        ("calibration", json!({"points": points, "force": q(425.0, "[lbf_av]")}), "/force"),
        ("calibration", json!({"points": points, "force": q(115.0, "[lbf_av]")}), "/force"),
        (
            "soil-strength",
            json!({"kind": "resistance_at_water", "soil": soil(25.0), "water": q(9.0, "%")}),
            "/water",
        ),
        (
            "soil-strength",
            json!({"kind": "resistance_at_water", "soil": soil(45.0), "water": q(25.0, "%")}),
            "/soil/clay",
        ),
        (
            "arm-angle",
            json!({"bar_too_high": q(7.0, "[in_i]"), "arm_length": q(6.5, "[in_i]")}),
            "/bar_too_high",
        ),
    ] {
        let answer = app.read_only.post(&path(name), &body).await;
        let entry = answer.assert_problem(422, "outside_validity").assert_member(pointer);
        assert!(entry["allowed"].is_string() && entry["why"].is_string(), "{name}: {entry}");
    }
}

#[tokio::test]
async fn members_that_contradict_each_other_are_refused() {
    let app = TestApp::start().await;
    let q = |value: f64, unit: &str| json!({"value": value, "unit": unit});
    let section = |weight: f64, hitch: f64| {
        json!({"name": "bar", "rows": 8, "wheels": 4,
        "empty_weight": q(weight, "[lbf_av]"), "on_hitch": q(hitch, "[lbf_av]")})
    };
    let down = q(200.0, "[lbf_av]");
    for (name, body, pointer) in [
        ("texture", json!({"sand": q(60.0, "%"), "clay": q(50.0, "%")}), "/clay"),
        (
            "disc-wear",
            json!({"new_diameter": q(15.0, "[in_i]"), "measured": q(15.5, "[in_i]")}),
            "/measured",
        ),
        (
            "cylinder-force",
            json!({"bore": q(1.5, "[in_i]"), "side": "rod",
                   "asked": {"kind": "force_at", "pressure": q(1000.0, "[psi]")}}),
            "/rod",
        ),
        (
            "cylinder-force",
            json!({"bore": q(1.5, "[in_i]"), "rod": q(1.5, "[in_i]"), "side": "cap",
                   "asked": {"kind": "force_at", "pressure": q(1000.0, "[psi]")}}),
            "/rod",
        ),
        ("residue-cover", json!({"kind": "transect", "hits": 101, "marks": 100}), "/hits"),
        (
            "residue-cover",
            json!({"kind": "mass", "previous_crop": "other", "mass": q(1.0, "t/har")}),
            "/previous_crop",
        ),
        (
            "frame-weight",
            json!({"sections": [section(1000.0, 2000.0)], "down_force": down}),
            "/sections/0/on_hitch",
        ),
        (
            "frame-weight",
            json!({"sections": [section(7000.0, 0.0)], "down_force": down, "arm_angle": q(5.0, "deg")}),
            "/draft",
        ),
        (
            "row-unit-forces",
            json!({"depth": q(2.0, "[in_i]"), "coulter_resistance": q(900.0, "N")}),
            "/coulter_resistance",
        ),
        (
            "spacing-quality",
            json!({"spacings": {"unit": "[in_i]", "values": [6, 7]}, "meant": q(0.0, "[in_i]")}),
            "/meant",
        ),
        ("contact-loss", json!({"kind": "load_for_share", "share": q(60.0, "%")}), "/share"),
        (
            "depth-statistics",
            json!({"crop": "corn", "depth_wanted": q(2.0, "[in_i]"), "rows_of_planter": 4, "rows": [
                {"row": 5, "depths": {"unit": "[in_i]", "values": [2.0]}}]}),
            "/rows/0/row",
        ),
        (
            "depth-statistics",
            json!({"crop": "corn", "depth_wanted": q(2.0, "[in_i]"), "rows_of_planter": 4, "rows": [
                {"row": 1, "depths": {"unit": "[in_i]", "values": [2.0]}},
                {"row": 1, "depths": {"unit": "[in_i]", "values": [1.9]}}]}),
            "/rows/1/row",
        ),
    ] {
        let answer = app.read_only.post(&path(name), &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}
