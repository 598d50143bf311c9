//! Readings that cannot all be true: named at once, and answered by the safer one.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn q(value: f64, unit: &str) -> Value {
    json!({"value": value, "unit": unit})
}

fn report(changes: &Value) -> Value {
    let mut body = Farmstead::conditions_body();
    let members = body.as_object_mut().expect("an object");
    for (name, value) in changes.as_object().expect("changes") {
        members.insert(name.clone(), value.clone());
    }
    body
}

fn codes(answer: &Value) -> Vec<&str> {
    let list = answer["contradictions"].as_array().expect("a list");
    list.iter().map(|it| it["code"].as_str().expect("a name")).collect()
}

#[tokio::test]
async fn whoever_reports_sees_at_once_what_contradicts_what() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    for (changes, code, members) in [
        (json!({"moisture": "at_capacity"}), "wet_yet_crumbles", ["/moisture", "/ball"]),
        (
            json!({"ball": "deforms", "penetration": q(500.0, "[psi]")}),
            "putty_yet_hard",
            ["/ball", "/moisture"],
        ),
        (
            json!({"cover": {
                "species": "cereal_rye", "height": q(0.0, "[in_i]"), "ground_cover": q(100.0, "%")
            }}),
            "flat_yet_covered",
            ["/cover/height", "/cover/ground_cover"],
        ),
        (
            json!({"soil_low": q(60.0, "[degF]")}),
            "low_above_now",
            ["/soil_low", "/soil_temperature"],
        ),
    ] {
        let made = app.advisor.post(&reports, &report(&changes)).await.assert_status(201).json();
        assert_eq!(codes(&made), [code], "{changes}");
        let found = &made["contradictions"][0];
        assert_eq!([&found["members"][0], &found["members"][1]], members);
        assert!(found["what"].as_str().is_some_and(|text| text.len() > 20));
        assert!(found["used"].as_str().is_some_and(|text| text.len() > 20));
        // The report itself stays as it was entered.
        for (name, value) in changes.as_object().unwrap() {
            assert_eq!(&made["observations"][name], value);
        }
        let newest = app.grower.get(&format!("{reports}/newest")).await.assert_status(200).json();
        assert_eq!(newest, made);
    }
    let plain = app.advisor.post(&reports, &Farmstead::conditions_body()).await.json();
    assert_eq!(plain["contradictions"], json!([]));
}

#[tokio::test]
async fn the_recommendation_goes_by_the_safer_reading_and_its_sheet_says_so() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let soaked = report(&json!({"moisture": "at_capacity", "penetration": q(500.0, "[psi]")}));
    app.advisor.post(&reports, &soaked).await.assert_status(201);
    let wanted = stead.recommendation_body(&json!({}));
    let made = app.advisor.post("/v1/recommendations", &wanted).await.assert_status(201).json();
    assert_eq!(codes(&made), ["wet_yet_crumbles", "putty_yet_hard"]);
    assert_eq!(made["today"]["verdict"], "wait");
    let id = made["id"].as_str().expect("an id");
    let page = app.advisor.get(&format!("/v1/recommendations/{id}/sheet")).await.text;
    assert!(page.contains("Look again:") && page.contains("yet a ball of it crumbles"));
    // Without the hard reading the need is the same: it was not used.
    app.advisor
        .post(&reports, &report(&json!({"moisture": "at_capacity"})))
        .await
        .assert_status(201);
    let softer = app.advisor.post("/v1/recommendations", &wanted).await.assert_status(201).json();
    let need = |it: &Value| it["settings"]["down_force"]["need"].clone();
    assert_eq!(need(&softer), need(&made));
}

#[tokio::test]
async fn the_verdict_alone_goes_by_the_safer_reading_too() {
    let app = TestApp::start().await;
    let body = report(&json!({"moisture": "at_capacity"}));
    let answer = app.grower.post("/v1/what-if/fitness", &body).await.assert_status(200).json();
    assert_eq!(codes(&answer), ["wet_yet_crumbles"]);
    assert_eq!(answer["today"], "wait");
}
