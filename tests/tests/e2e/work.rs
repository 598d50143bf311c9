//! Work rate, power and seed on a recommendation and on its sheet.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn number(answer: &Value, at: &str) -> f64 {
    answer.pointer(at).and_then(Value::as_f64).unwrap_or_else(|| panic!("no {at} in {answer}"))
}

fn goals() -> Value {
    json!({
        "speed": {"value": 5, "unit": "[mi_i]/h"},
        "seeding": {"kind": "rate", "seeds": {"value": 34_000, "unit": "1/[acr_us]"}}
    })
}

#[tokio::test]
async fn days_and_seed_are_those_of_the_field_where_nothing_else_is_said() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let body = stead.recommendation_body(&goals());
    let id = app.lead.create("/v1/recommendations", &body).await;
    let path = format!("/v1/recommendations/{id}");
    let told = app.lead.get(&path).await.assert_status(200).json();
    let work = &told["work"];
    assert_eq!(work["area"], json!({"value": 40.0, "unit": "[acr_us]"}));
    assert_eq!(work["area_from"], "given");
    // 8 rows of 30 in at 5 mph and 60 %: 20 x 5 x 0.6 / 8.25 = 7.27 ac/h, ten hours, 48 % fit.
    assert!((number(work, "/advised/capacity/value") - 7.27).abs() < 0.01);
    assert!((number(work, "/advised/calendar_days") - 40.0 / 72.7 / 0.48).abs() < 0.01);
    assert!(number(work, "/advised/calendar_low") < number(work, "/advised/calendar_high"));
    assert_eq!(work["assumed"].as_array().map(Vec::len), Some(3));
    // 40 x 34,000 and 3 %: 17.5 bags.
    assert!((number(work, "/seed/units") - 18.0).abs() < 1e-9);
    let half = told["settings"]["down_force"]["as_box_empties"]
        .as_array()
        .and_then(|states| states.iter().find(|it| it["hopper"] == "half"))
        .expect("a half-full hopper");
    assert!((number(work, "/advised/load/value") - number(half, "/load/value")).abs() <= 1.0);
    assert_eq!(told["goals"].get("work"), None, "the goals stay as they were entered");
    let power = &told["power"];
    assert_eq!((&power["tractor"], &power["surface"]), (&json!("front_assist"), &json!("firm")));
    assert!(number(power, "/pto/low/value") < number(power, "/pto/high/value"));
    for step in
        ["working days", "calendar days", "bags or units, before rounding up", "power at the PTO"]
    {
        let known = told["trace"].as_array().expect("a trace");
        let seed = work["seed"]["trace"].as_array().expect("a trace");
        assert!(known.iter().chain(seed).any(|it| it["step"] == step), "no step {step}");
    }
    let sheet = app.lead.get(&format!("{path}/sheet")).await.assert_status(200).text;
    assert!(sheet.contains("ac/h") && sheet.contains("One mph slower: "), "{sheet}");
    assert!(sheet.contains("seed to order: 18 units of 80,000"), "{sheet}");
    let metric = app.lead.get(&format!("{path}/sheet?units=si")).await.assert_status(200).text;
    assert!(metric.contains(" ha/h"), "{metric}");
}

#[tokio::test]
async fn goals_name_the_work_and_what_is_out_of_range_is_refused_by_name() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let mut wanted = goals();
    wanted["work"] = json!({
        "area": {"value": 800.0, "unit": "[acr_us]"}, "efficiency": {"value": 70.0, "unit": "%"},
        "hours_a_day": 12.0, "suitable_share": {"value": 50.0, "unit": "%"},
        "expected_yield_bu_ac": 200.0
    });
    let body = stead.recommendation_body(&wanted);
    let id = app.lead.create("/v1/recommendations", &body).await;
    let told = app.lead.get(&format!("/v1/recommendations/{id}")).await.assert_status(200).json();
    assert_eq!(told["goals"]["work"], wanted["work"]);
    let days = 800.0 / (20.0 * 5.0 / 8.25 * 0.7 * 12.0) / 0.5;
    assert!((number(&told["work"], "/advised/calendar_days") - days).abs() < 0.01);
    assert_eq!(told["work"]["assumed"], json!([]));
    let lost = &told["work"]["price"]["lost"];
    let ratio = number(lost, "/bushels_per_acre/high") / number(lost, "/percent/high");
    assert!((ratio - 2.0).abs() < 0.02, "200 bu/ac: a percent is 2 bu. {lost}");
    for (member, value, pointer) in [
        ("area", json!({"value": 0, "unit": "[acr_us]"}), "/goals/work/area"),
        ("efficiency", json!({"value": 0, "unit": "%"}), "/goals/work/efficiency"),
        ("hours_a_day", json!(0), "/goals/work/hours_a_day"),
        ("suitable_share", json!({"value": 120, "unit": "%"}), "/goals/work/suitable_share"),
        ("expected_yield_bu_ac", json!(1000), "/goals/work/expected_yield_bu_ac"),
        ("fuel", json!(1), "/goals/work/fuel"),
    ] {
        let mut bad = wanted.clone();
        bad["work"][member] = value;
        let answer = app.lead.post("/v1/recommendations", &stead.recommendation_body(&bad)).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn a_field_without_area_is_answered_for_a_hundred_acres() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let field = format!("/v1/fields/{}", stead.field);
    let none = json!({"entered_area": null, "boundary": null});
    app.lead.patch(&field, "*", &none).await.assert_status(200);
    let id = app.lead.create("/v1/recommendations", &stead.recommendation_body(&goals())).await;
    let told = app.lead.get(&format!("/v1/recommendations/{id}")).await.assert_status(200).json();
    assert_eq!(told["work"]["area_from"], "hundred_acres");
    assert!((number(&told["work"], "/area/value") - 100.0).abs() < 1e-9);
    assert!(told["work"].get("seed").is_none(), "no area, no order");
}
