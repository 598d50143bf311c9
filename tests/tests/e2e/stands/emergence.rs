//! Degree days of a planting, and when it comes up.

use serde_json::{Value, json};
use tests::TestApp;

use super::{day, near, planted, planting, stead, steady};

/// Degree days of a newspaper column (Wisconsin, 2018): 25.5, 11 and 6.5, 43 in all.
#[tokio::test]
async fn three_days_of_a_newspaper_sum_to_43() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = planted(&app.lead, &stead, "2027-04-09").await;
    let farm = format!("/v1/farms/{}/temperatures", stead.farm);
    let days = json!([
        day("2027-04-09", 90.0, 70.0),
        day("2027-04-10", 90.0, 65.0),
        day("2027-04-11", 72.0, 46.0),
        day("2027-04-12", 63.0, 42.0)
    ]);
    app.lead.post(&farm, &json!({"days": days})).await.assert_status(200);
    let path = format!("/v1/plantings/{id}/degree-days?to=2027-04-12");
    let found = app.grower.get(&path).await.assert_status(200).json();
    assert_eq!(
        found["sum"],
        json!({"value": 43.0, "unit": "[degF].d"}),
        "the day of planting is out"
    );
    assert_eq!(found["days"][1]["sum"], json!({"value": 36.5, "unit": "[degF].d"}));
    let si = app.grower.get(&format!("{path}&units=si")).await.json();
    assert_eq!(si["sum"]["unit"], "K.d");
    assert!(near(&si["sum"]["value"], 43.0 / 1.8), "{si}");
    assert_eq!(si["days"][0]["high"]["unit"], "Cel");
}

#[tokio::test]
async fn a_missing_day_is_named_and_filled_only_when_asked() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = planted(&app.lead, &stead, "2027-04-09").await;
    let farm = format!("/v1/farms/{}/temperatures", stead.farm);
    let days = json!([day("2027-04-10", 80.0, 60.0), day("2027-04-12", 60.0, 50.0)]);
    app.lead.post(&farm, &json!({"days": days})).await.assert_status(200);
    let path = format!("/v1/plantings/{id}/degree-days?to=2027-04-12");
    let plain = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!(plain["missing"], json!(["2027-04-11"]));
    assert!(
        near(&plain["sum"]["value"], 25.0) && near(&plain["at_most"]["value"], 61.0),
        "{plain}"
    );
    assert_eq!(plain["assumed"], json!([]));
    let filled = app.lead.get(&format!("{path}&fill_gaps=1")).await.assert_status(200).json();
    assert_eq!((&filled["missing"], &filled["days"][1]["from"]), (&json!([]), &json!("filled")));
    assert!(near(&filled["sum"]["value"], 37.5), "{filled}");
    assert_eq!(filled["assumed"][0]["mark"], "assumption");
    for (query, pointer) in
        [("fill_gaps=6", "?fill_gaps"), ("to=2027-04-08", "?to"), ("to=2028-04-08", "?to")]
    {
        let answer = app.lead.get(&format!("/v1/plantings/{id}/degree-days?{query}")).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

/// Purdue University Field Guide, 2016: 115 degree days at 17.5 a day are 6.57 days.
#[tokio::test]
async fn steady_days_bring_corn_up_on_the_seventh_day() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    // Another planting without a report: nothing but depth and date moves its need.
    let bare = json!({"farm_id": stead.farm, "name": "Bare ground"});
    let bare = app.lead.create("/v1/fields", &bare).await;
    let mut body = planting(&stead, "2026-05-01");
    body["depth"] = json!({"value": 1.75, "unit": "[in_i]"});
    let id = app.lead.create(&format!("/v1/fields/{bare}/plantings"), &body).await;
    let days: Vec<Value> =
        (2..=20).map(|date| day(&format!("2026-05-{date:02}"), 80.0, 55.0)).collect();
    let farm = format!("/v1/farms/{}/temperatures", stead.farm);
    app.lead.post(&farm, &json!({"days": days})).await.assert_status(200);
    let path = format!("/v1/plantings/{id}/emergence-forecast");
    let told = app.grower.post(&path, &json!({})).await.assert_status(200).json();
    assert_eq!(told["need"]["likely"], json!({"value": 115.0, "unit": "[degF].d"}));
    assert_eq!(told["earliest"], "2026-05-07");
    assert_eq!(told["likely"], "2026-05-08");
    assert_eq!(told["latest"], "2026-05-09");
    assert_eq!(
        (&told["count_from"], &told["count_to"]),
        (&json!("2026-05-22"), &json!("2026-05-29"))
    );
    assert_eq!(told["count_by_temperature"], true);
    assert_eq!(told["state"], "up");
    assert_eq!(told["assumed"].as_array().expect("assumed").len(), 1, "nobody reported the field");
}

#[tokio::test]
async fn a_normal_day_carries_the_forecast_on_and_is_marked() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = planted(&app.lead, &stead, "2027-04-16").await;
    let farm = format!("/v1/farms/{}/temperatures", stead.farm);
    app.lead.post(&farm, &json!({"days": steady(17, 3)})).await.assert_status(200);
    let path = format!("/v1/plantings/{id}/emergence-forecast");
    let plain = app.lead.post(&path, &json!({})).await.assert_status(200).json();
    assert!(plain.get("likely").is_none(), "{plain}");
    assert_eq!(
        (&plain["state"], &plain["count_by_temperature"]),
        (&json!("not_yet"), &json!(false))
    );
    let normal = json!({"normal_day": {
        "high": {"value": 80, "unit": "[degF]"}, "low": {"value": 55, "unit": "[degF]"}
    }});
    let told = app.lead.post(&path, &normal).await.assert_status(200).json();
    let (first, likely, last) = (&told["earliest"], &told["likely"], &told["latest"]);
    assert!(first.as_str() <= likely.as_str() && likely.as_str() <= last.as_str(), "{told}");
    assert!(first.as_str() > Some("2027-04-19"), "{told}");
    let assumed = told["assumed"].as_array().expect("assumed");
    assert!(assumed.iter().any(|it| it["used"] == "those of the normal day that was given"));
    for (body, pointer) in [
        (json!({"fill_gaps": 9}), "/fill_gaps"),
        (
            json!({"normal_day": {"high": {"value": 40, "unit": "[degF]"}, "low": {"value": 55, "unit": "[degF]"}}}),
            "/normal_day/low",
        ),
    ] {
        let answer = app.lead.post(&path, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn the_report_of_the_field_moves_the_need() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = |id: &str| format!("/v1/plantings/{id}/emergence-forecast");
    let mut body = planting(&stead, "2027-04-20");
    body["depth"] = json!({"value": 3, "unit": "[in_i]"});
    let plantings = format!("/v1/fields/{}/plantings", stead.field);
    let deep = app.lead.create(&plantings, &body).await;
    let told = app.lead.post(&path(&deep), &json!({})).await.assert_status(200).json();
    let texts: Vec<&str> = told["because"]
        .as_array()
        .expect("because")
        .iter()
        .filter_map(|it| it["text"].as_str())
        .collect();
    assert!(texts.iter().any(|text| text.contains("each inch below 2 in")), "{texts:?}");
    assert!(texts.iter().any(|text| text.contains("before 25 April")), "{texts:?}");
    let memory = told["because"].as_array().expect("because").iter();
    assert_eq!(memory.filter(|it| it["mark"] == "from_memory").count(), 1);
}
