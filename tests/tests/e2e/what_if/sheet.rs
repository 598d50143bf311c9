//! The sheet of settings and its parts without storing anything: what they say, what they refuse.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::document::assert_same;
use super::path;
use super::published::q;

/// Members of a recommendation that say where it is kept or what the shed says, and not what it says.
const KEPT: [&str; 19] = [
    "id",
    "field_id",
    "planter_id",
    "conditions_id",
    "calibration_id",
    "coefficient_set_id",
    "series_id",
    "revision",
    "replaces_id",
    "status",
    "goals",
    "version",
    "created_at",
    "created_by",
    "issued_at",
    "issued_by",
    "acknowledged_at",
    "acknowledged_by",
    "open_replacements",
];

/// The planter, the field and the calibration of the farmstead, inline.
fn inline(goals: &Value) -> Value {
    json!({
        "makeup": Farmstead::planter_body("").get("makeup"),
        "calibration": Farmstead::calibration_body().get("points"),
        "conditions": Farmstead::conditions_body(),
        "goals": goals
    })
}

#[tokio::test]
async fn it_says_what_a_stored_recommendation_says() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Miller").await;
    // A stored recommendation knows the area of the field; here it is named.
    let work = json!({"area": q(40.0, "[acr_us]")});
    for goals in [
        json!({"work": work}),
        json!({"work": work, "depth": q(1.75, "[in_i]"), "speed": q(6.0, "[mi_i]/h"), "closing": "finger",
               "seeding": {"kind": "stand"}, "instructions": ["Start on the west side."]}),
    ] {
        let wanted = stead.recommendation_body(&goals);
        let stored = app.lead.post("/v1/recommendations", &wanted).await.assert_status(201).json();
        let told = app.lead.post(&path("settings"), &inline(&goals)).await;
        let told = told.assert_status(200).json();
        let names = |of: &Value| -> BTreeSet<String> {
            of.as_object().expect("an object").keys().cloned().collect()
        };
        let said: BTreeSet<String> =
            names(&stored).into_iter().filter(|name| !KEPT.contains(&name.as_str())).collect();
        assert_eq!(names(&told), said);
        for name in said {
            assert_same(&name, &told[&name], &stored[&name]);
        }
    }
}

#[tokio::test]
async fn it_comes_in_the_units_that_are_asked_for_and_changes_with_what_goes_in() {
    let app = TestApp::start().await;
    let asked = format!("{}?units=si", path("settings"));
    let si = app.grower.post(&asked, &inline(&json!({}))).await.assert_status(200).json();
    assert_eq!(si["settings"]["depth"]["value"]["unit"], "mm");
    assert_eq!(si["settings"]["wall"]["load"]["unit"], "N");
    let mut wet = inline(&json!({}));
    wet["conditions"]["moisture"] = json!("wet");
    wet["conditions"]["ball"] = json!("cracks");
    wet["makeup"]["closing_owned"] = json!(["finger"]);
    let wet = app.grower.post(&asked, &wet).await.assert_status(200).json();
    let pair = |of: &Value| of["settings"]["closing"]["pair"].clone();
    assert_eq!((pair(&si), pair(&wet)), (json!("spiked_and_rubber"), json!("finger")));
    assert_ne!(si["settings"]["wall"]["product"], wet["settings"]["wall"]["product"]);
}

#[tokio::test]
async fn the_figures_of_the_practice_are_used() {
    let app = TestApp::start().await;
    let own = json!({"value": 0.5, "low": 0.5, "high": 0.5, "unit": "[in_i]",
                     "source": "trials of the practice, 2026"});
    app.lead.put("/v1/coefficients/depth_shift", "*", &own).await.assert_status(200);
    let body = json!({"conditions": {
        "observed_at": "2027-04-20T10:00:00Z", "crop": "soybean", "planting_date": "2027-04-20",
        "texture": "silt_loam", "moisture": "moist", "residue_cover": q(20.0, "%")
    }});
    let start = |answer: Value| answer["moves"][0]["by"]["value"].as_f64().expect("a move");
    let here = app.read_only.post(&path("planting-depth"), &body).await.assert_status(200).json();
    let there = app.stranger.post(&path("planting-depth"), &body).await.assert_status(200).json();
    assert_eq!((start(here), start(there)), (-0.5, -0.25));
}

/// A field for a depth: crop, texture, moisture, day, residue in percent, soil in °F.
type Ground = (&'static str, &'static str, &'static str, &'static str, f64, f64);

#[tokio::test]
async fn published_depths_come_out() {
    let app = TestApp::start().await;
    let cases: [(&str, Ground, [f64; 3]); 7] = [
        // Michigan State University Extension 2012: 1 to 1.5 in; early, fine and moist, much residue
        // at the shallow end; late, coarse or dry at the deep end, to 2 in on sand.
        ("fine, moist", ("soybean", "clay", "moist", "2026-05-20", 20.0, 60.0), [1.0, 1.0, 1.5]),
        ("much residue", ("soybean", "loam", "moist", "2026-05-20", 80.0, 60.0), [1.0, 1.0, 1.5]),
        ("late", ("soybean", "loam", "moist", "2026-06-10", 20.0, 60.0), [1.5, 1.0, 1.5]),
        ("sand", ("soybean", "sand", "moist", "2026-06-10", 20.0, 60.0), [1.75, 1.0, 2.0]),
        // University of Missouri: 2 in, 1.5 to 2.5 in the usual range.
        ("corn", ("corn", "silt_loam", "moist", "2026-05-01", 20.0, 60.0), [2.0, 1.5, 2.5]),
        // Pennsylvania no-till note: 1.5 in when cool and wet.
        ("cool and wet", ("corn", "silt_loam", "wet", "2026-05-01", 10.0, 51.0), [1.5, 1.5, 2.0]),
        // University of Nebraska 2013: at least 2 in, to 3 in with dry soil and little residue.
        ("dry", ("corn", "silt_loam", "dry", "2026-05-01", 10.0, 60.0), [2.5, 2.0, 3.0]),
    ];
    for (name, (crop, texture, moisture, day, residue, soil), expected) in cases {
        let body = json!({"conditions": {
            "observed_at": "2026-05-01T10:00:00Z", "crop": crop, "planting_date": day,
            "texture": texture, "moisture": moisture, "residue_cover": q(residue, "%"),
            "soil_temperature": q(soil, "[degF]")
        }});
        let answer = app.read_only.post(&path("planting-depth"), &body).await;
        let answer = answer.assert_status(200).json();
        for (member, wanted) in ["start", "safe_low", "safe_high"].into_iter().zip(expected) {
            assert_eq!(answer[member]["value"], wanted, "{name}: {member}");
        }
    }
}

#[tokio::test]
async fn published_rules_come_out() {
    let app = TestApp::start().await;
    let conditions = |more: Value| {
        let mut report = json!({"observed_at": "2026-05-01T10:00:00Z", "crop": "corn",
            "texture": "silt_loam", "moisture": "moist", "residue_cover": q(60.0, "%")});
        for (name, value) in more.as_object().expect("an object") {
            report[name] = value.clone();
        }
        report
    };
    let residue = |more: Value| {
        let coulter = json!({"mount": "unit"});
        json!({"conditions": conditions(more), "coulter": coulter, "cleaner": "floating"})
    };
    let closing = |more: Value| {
        json!({"conditions": conditions(more), "fitted": "rubber",
               "owned": ["cast_iron", "spiked_and_rubber", "two_spiked", "finger"]})
    };
    let rye = |height: f64, state: &str| json!({"species": "cereal_rye", "height": q(height, "[in_i]"), "state": state});
    let soft = json!({"penetration": q(80.0, "[psi]"), "cover": rye(30.0, "dead_damp")});
    let firm = json!({"penetration": q(150.0, "[psi]"), "residue_feel": "crisp"});
    for (source, name, body, at, value) in [
        ("NRCS 2014", "residue-handling", residue(soft), "/coulter/coulter", "take_off"),
        ("Nebraska 2010", "residue-handling", residue(firm), "/coulter/coulter", "run"),
        (
            "Iowa 2020: be slow to use cleaners in a living cover",
            "residue-handling",
            residue(json!({"cover": rye(24.0, "green_standing")})),
            "/row_cleaner/cleaner",
            "float",
        ),
        (
            "Iowa 2021: yellowing rye wraps",
            "residue-handling",
            residue(json!({"cover": rye(12.0, "dying")})),
            "/row_cleaner/wrap",
            "high",
        ),
        (
            "Nebraska 2013: corn on corn beside the old row",
            "residue-handling",
            residue(json!({"previous_crop": "corn"})),
            "/old_rows/run",
            "beside_old_row",
        ),
        (
            "Colorado about 2016: cool, moist, heavy",
            "closing-wheels",
            closing(json!({"texture": "silty_clay_loam"})),
            "/closing/pair",
            "spiked_and_rubber",
        ),
        (
            "Iowa 2008: fingers on wet soil",
            "closing-wheels",
            closing(json!({"moisture": "wet"})),
            "/closing/pair",
            "finger",
        ),
        (
            "Iowa 2008: no spring on wet soil",
            "closing-wheels",
            closing(json!({"moisture": "wet"})),
            "/closing/spring",
            "none",
        ),
    ] {
        let answer = app.read_only.post(&path(name), &body).await.assert_status(200).json();
        let found = answer.pointer(at).unwrap_or_else(|| panic!("{source}: no {at} in {answer}"));
        assert_eq!(found, value, "{source}");
    }
}

#[tokio::test]
async fn the_ranking_of_closing_wheels_adds_up() {
    let app = TestApp::start().await;
    let body = json!({
        "conditions": {"observed_at": "2026-05-01T10:00:00Z", "crop": "corn", "moisture": "wet",
                       "texture": "clay_loam", "residue_cover": q(70.0, "%")},
        "fitted": "rubber", "owned": ["cast_iron"], "depth": q(1.5, "[in_i]"),
        "speed": q(6.0, "[mi_i]/h")
    });
    let answer = app.grower.post(&path("closing-wheels"), &body).await.assert_status(200).json();
    let ranking = answer["closing"]["ranking"].as_array().expect("a ranking");
    let pairs: Vec<(&str, &str)> = ranking
        .iter()
        .map(|it| (it["pair"].as_str().unwrap(), it["at_hand"].as_str().unwrap()))
        .collect();
    let expected = [
        ("finger", "not_owned"),
        ("spiked_and_rubber", "not_owned"),
        ("two_spiked", "not_owned"),
        ("cast_iron", "owned"),
        ("rubber", "fitted"),
    ];
    assert_eq!(pairs, expected);
    for (place, ranked) in ranking.iter().enumerate() {
        let counts = ranked["grades"].as_array().unwrap().iter();
        let sum: f64 = counts.map(|grade| grade["counts"].as_f64().unwrap()).sum();
        assert!((sum - ranked["points"].as_f64().unwrap()).abs() < 1e-9, "{ranked}");
        assert_eq!(answer["trace"][place]["value"], ranked["points"]);
        assert_eq!(ranked.get("above_next").is_some(), place + 1 < ranking.len());
    }
    let watch = answer["closing"]["watch"].to_string();
    for words in ["opens up again", "fell with speed", "neither outer ones", "one wet spot"] {
        assert!(watch.contains(words), "no {words} in {watch}");
    }
}

#[tokio::test]
async fn what_is_wrong_is_named_by_its_place_in_the_body() {
    let app = TestApp::start().await;
    let mut bad = inline(&json!({"depth": q(9.0, "[in_i]")}));
    bad["makeup"]["row_width"] = q(400.0, "[in_i]");
    bad["calibration"][0]["force"] = q(9000.0, "[lbf_av]");
    bad["conditions"]["ribbon"] = q(60.0, "[in_i]");
    bad["conditions"]["cover"]["height"] = q(900.0, "[in_i]");
    let answer = app.grower.post(&path("settings"), &bad).await;
    let answer = answer.assert_problem(422, "invalid_request");
    for pointer in [
        "/makeup/row_width",
        "/calibration/0/force",
        "/conditions/ribbon",
        "/conditions/cover/height",
        "/goals/depth",
    ] {
        answer.assert_member(pointer);
    }
    assert_eq!(answer.json()["errors"].as_array().map(Vec::len), Some(5), "{}", answer.json());

    let report = json!({"observed_at": "2027-04-20T10:00:00Z", "crop": "corn"});
    let with = |more: Value| {
        let mut body = json!({"conditions": report});
        for (name, value) in more.as_object().expect("an object") {
            body[name] = value.clone();
        }
        body
    };
    let ahead = json!({"observed_at": "2028-01-01T00:00:00Z", "crop": "corn"});
    let disc = json!({"new_diameter": q(15.0, "[in_i]"), "measured": q(99.0, "[in_i]")});
    let lever = json!({"first": q(1.0, "[in_i]"), "step": q(3.0, "[in_i]"), "notches": 9});
    let coulter = json!({"mount": "unit", "above_opener": q(9.0, "[in_i]")});
    let rubber = "rubber";
    for (name, body, pointer) in [
        ("planting-depth", json!({"conditions": ahead}), "/conditions/observed_at"),
        ("planting-depth", with(json!({"opener": disc})), "/opener/measured"),
        ("planting-depth", with(json!({"depth_lever": lever})), "/depth_lever/step"),
        ("planting-depth", with(json!({"coulter": coulter})), "/coulter/above_opener"),
        (
            "residue-handling",
            with(json!({"coulter": coulter, "cleaner": "none"})),
            "/coulter/above_opener",
        ),
        ("residue-handling", with(json!({"cleaner": "brush"})), "/cleaner"),
        ("residue-handling", with(json!({})), "/cleaner"),
        ("closing-wheels", with(json!({"fitted": "wood"})), "/fitted"),
        ("closing-wheels", with(json!({"fitted": rubber, "rows": 65})), "/rows"),
        ("closing-wheels", with(json!({"fitted": rubber, "depth": q(9.0, "[in_i]")})), "/depth"),
        ("closing-wheels", with(json!({"fitted": rubber, "speed": q(90.0, "[mi_i]/h")})), "/speed"),
        ("closing-wheels", with(json!({"fitted": rubber, "owned": vec![rubber; 6]})), "/owned"),
        ("settings", json!({"makeup": {}, "conditions": report}), "/makeup/rows"),
    ] {
        let answer = app.grower.post(&path(name), &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}
