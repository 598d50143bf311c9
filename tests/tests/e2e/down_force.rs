//! What a recommendation says about forces, the source, the hopper, the frame and the soil.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn number(whole: &Value, pointer: &str) -> f64 {
    let found = whole.pointer(pointer).unwrap_or_else(|| panic!("{pointer} in {whole}"));
    found.get("value").unwrap_or(found).as_f64().unwrap()
}

fn named<'a>(advice: &'a Value, name: &str) -> &'a Value {
    let forces = advice["forces"].as_array().unwrap();
    forces.iter().find(|f| f["force"] == name).unwrap_or_else(|| panic!("{name} in {forces:?}"))
}

/// The down force of a new recommendation, and the whole of it.
async fn advice(app: &TestApp, stead: &Farmstead, goals: Value) -> (Value, Value) {
    let body = stead.recommendation_body(&goals);
    let made = app.lead.post("/v1/recommendations", &body).await.assert_status(201).json();
    (made["settings"]["down_force"].clone(), made)
}

async fn stead(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await
}

#[tokio::test]
async fn every_force_comes_with_a_range() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let (force, whole) = advice(&app, &stead, json!({})).await;
    for name in ["opener", "coulter", "closing", "attachments", "need_half", "load_empty"] {
        let f = named(&force, name);
        let (low, likely, high) = (number(f, "/low"), number(f, "/likely"), number(f, "/high"));
        assert!(low < likely && likely < high, "{f}");
    }
    // The unit was weighed.
    let unit = named(&force, "unit_weight");
    assert_eq!((&unit["low"], &unit["high"]), (&unit["likely"], &unit["likely"]));
    assert_eq!(named(&force, "need_half")["likely"], force["need"]);
    assert_eq!(named(&force, "need_half")["low"], force["need_low"]);
    let steps = whole["trace"].as_array().unwrap();
    let opener = steps.iter().find(|s| s["step"] == "opener").unwrap();
    assert!(opener["low"].as_f64() < opener["value"].as_f64(), "{opener}");
    let edges = &force["window"]["edges"];
    assert_eq!((number(edges, "/aimed_loss"), number(edges, "/tolerated_loss")), (0.05, 0.1));
    assert!(number(edges, "/low_from") < number(edges, "/low_to"));
    let next = &whole["measure_next"][0];
    let narrowing = &next["narrowing"];
    let width = |low: &str, high: &str| number(narrowing, high) - number(narrowing, low);
    let share = 1.0 - width("/low_then", "/high_then") / width("/low_now", "/high_now");
    assert!((share - number(next, "/narrows_by")).abs() < 0.02, "{next}");
    assert!(number(narrowing, "/chance_then") >= number(narrowing, "/chance_now"));
}

#[tokio::test]
async fn a_hopper_that_swings_too_far_is_told_when_to_change() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    // So deep that even a full hopper wants more than the least that these bags give.
    let deep = json!({"depth": {"value": 2.75, "unit": "[in_i]"}});
    let (force, whole) = advice(&app, &stead, deep).await;
    let hopper = &force["hopper"];
    // 1.6 bu of corn weigh 90 lbf, and the window of moist soil is 63 lbf wide.
    assert_eq!(hopper["one_setting_serves"], json!(false));
    assert!((number(hopper, "/swing") - 90.0).abs() < 1.0, "{hopper}");
    assert!((number(hopper, "/window_width") - 63.0).abs() < 1.0, "{hopper}");
    let levels = hopper["at_levels"].as_array().unwrap();
    let set: Vec<f64> = levels.iter().map(|l| number(l, "/per_row")).collect();
    assert!(set.len() == 3 && set[0] < set[1] && set[1] < set[2], "{set:?}");
    let changes = hopper["changes"].as_array().unwrap();
    assert!(changes.len() >= 2 && changes[0]["from_share"] == json!(1.0), "{hopper}");
    assert_eq!(changes[1]["setting"]["kind"], "pressure");
    let path = format!("/v1/recommendations/{}/sheet", whole["id"].as_str().unwrap());
    let sheet = app.lead.get(&path).await.assert_status(200).text;
    assert!(sheet.contains("One setting does not serve full and empty"), "{sheet}");
}

#[tokio::test]
async fn the_chance_of_losing_contact_can_be_chosen() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let with = |percent: f64| json!({"contact_loss": {"value": percent, "unit": "%"}});
    let (two, whole) = advice(&app, &stead, with(2.0)).await;
    let (ten, _) = advice(&app, &stead, with(10.0)).await;
    assert_eq!(whole["goals"]["contact_loss"], json!({"value": 2.0, "unit": "%"}));
    // The ceiling of moist soil caps the aim at 200 lbf; z of 10 % is 1.28, and sigma 107 lbf.
    assert!((number(&two, "/window/aim") - 200.0).abs() < 1.0);
    assert!((number(&ten, "/window/aim") - 137.0).abs() < 1.0);
    assert!((number(&two, "/window/edges/aimed_loss") - 0.02).abs() < 1e-9);
    assert!(number(&two, "/need") > number(&ten, "/need"));
    for wrong in [0.5, 20.0] {
        let refused =
            app.lead.post("/v1/recommendations", &stead.recommendation_body(&with(wrong))).await;
        refused.assert_problem(422, "invalid_request").assert_member("/goals/contact_loss");
    }
}

#[tokio::test]
async fn a_third_point_speaks_about_the_calibration() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let (force, _) = advice(&app, &stead, json!({})).await;
    let known = &force["source"]["known"];
    assert_eq!((&known["kind"], known.get("check")), (&json!("calibrated"), None));
    let mut body = Farmstead::calibration_body();
    let point = json!({"pressure": {"value": 30.0, "unit": "[psi]"}, "force": {"value": 180.0, "unit": "[lbf_av]"}});
    body["points"].as_array_mut().unwrap().push(point.clone());
    body["calibrated_on"] = json!("2027-04-10");
    app.lead.create(&format!("/v1/planters/{}/calibrations", stead.planter), &body).await;
    let (force, _) = advice(&app, &stead, json!({})).await;
    let check = &force["source"]["known"]["check"];
    assert_eq!(check["agrees"], json!(false), "{force}");
    assert!((number(check, "/expected") - 220.0).abs() < 0.5);
    assert!((number(check, "/off_by") + 40.0).abs() < 0.5);
    let asked = json!({"points": body["points"]});
    let what_if = app.lead.post("/v1/what-if/calibration", &asked).await.assert_status(200).json();
    assert_eq!(what_if["check"]["agrees"], json!(false));
}

#[tokio::test]
async fn a_frame_tells_its_stages_and_its_ground_drive() {
    let app = TestApp::start().await;
    let mut stead = stead(&app).await;
    let mut body = Farmstead::planter_body(&stead.grower);
    let section = |name: &str, rows: u16, weight: f64| {
        json!({
            "name": name, "rows": rows, "wheels": 2,
            "empty_weight": {"value": weight, "unit": "[lbf_av]"},
            "on_hitch": {"value": 0, "unit": "[lbf_av]"}
        })
    };
    body["name"] = json!("The one with wings");
    body["makeup"]["frame"] = json!([section("left wing", 2, 900.0), section("centre", 4, 6000.0)]);
    body["makeup"]["down_force"] = json!({"kind": "spring", "notches": [
        {"label": "1", "force": {"value": 0, "unit": "[lbf_av]"}},
        {"label": "2", "force": {"value": 250, "unit": "[lbf_av]"}},
        {"label": "3", "force": {"value": 400, "unit": "[lbf_av]"}}
    ]});
    body["makeup"]["ground_drive"] =
        json!({"section": "right wing", "pull": {"value": 135, "unit": "[lbf_av]"}});
    let refused = app.lead.post("/v1/planters", &body).await;
    let problem = refused.assert_problem(422, "invalid_request");
    let member = problem.assert_member("/makeup/ground_drive/section");
    assert!(member.to_string().contains("left wing"), "{member}");
    body["makeup"]["ground_drive"]["section"] = json!("left wing");
    stead.planter = app.lead.create("/v1/planters", &body).await;
    let kept = app.lead.get(&format!("/v1/planters/{}", stead.planter)).await.json();
    assert_eq!(
        kept["makeup"]["ground_drive"],
        json!({"section": "left wing", "pull": {"value": 135.0, "unit": "[lbf_av]"}})
    );

    let goals = json!({"depth": {"value": 2, "unit": "[in_i]"}});
    let (force, _) = advice(&app, &stead, goals).await;
    let frame = &force["frame"];
    let wing: Vec<(&str, f64)> = frame["stages"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|s| s["section"] == "left wing")
        .map(|s| (s["what"].as_str().unwrap(), number(s, "/at")))
        .collect();
    // 900 lbf over two rows; the drive needs 135 / 0.45 = 300 lbf, the reserve is 100 lbf.
    assert_eq!(wing, [("ground_drive_slips", 300.0), ("reserve_used_up", 400.0), ("lifts", 450.0)]);
    assert!((number(&force, "/per_row") - 250.0).abs() < 0.5, "the next notch would slip");
    assert_eq!(force["set_on_planter"], json!({"kind": "notch", "label": "2"}));
    assert_eq!(frame["ground_drive"]["verdict"], "may_slip");
    assert!(frame["meaning"].as_str().unwrap().contains("reserve"));
    // Empty needs 45 lbf more than the need half full: the notch not below is the third.
    assert_eq!(force["source"]["when_empty"]["setting"], json!({"kind": "notch", "label": "3"}));
}

#[tokio::test]
async fn the_soil_says_what_it_was_judged_by() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let mut body = Farmstead::conditions_body();
    let cases = [
        (json!({}), "moisture_and_texture", 1.0),
        (
            json!({
                "sand": {"value": 20, "unit": "%"}, "clay": {"value": 25, "unit": "%"}, "organic_carbon": {"value": 2, "unit": "%"},
                "bulk_density": {"value": 1.3, "unit": "g/cm3"}, "water": {"value": 25, "unit": "%"}
            }),
            "strength_formula",
            1.26,
        ),
        (json!({"strength_class": "firm"}), "strength_class", 1.67),
        (json!({"penetration": {"value": 225, "unit": "[psi]"}}), "penetrometer", 1.5),
    ];
    for (hour, (more, from, factor)) in cases.into_iter().enumerate() {
        body["observed_at"] = json!(format!("2027-04-20T{}:30:00Z", 12 + hour));
        for (name, value) in more.as_object().unwrap() {
            body[name] = value.clone();
        }
        app.lead.create(&reports, &body).await;
        let (force, whole) = advice(&app, &stead, json!({})).await;
        assert_eq!(force["soil"]["from"], json!(from), "{}", force["soil"]);
        assert!((number(&force, "/soil/factor") - factor).abs() < 0.011, "{}", force["soil"]);
        let steps = whole["trace"].as_array().unwrap();
        assert!(steps.iter().any(|s| s["step"] == "soil-state factor" && s["low"].is_number()));
    }
}
