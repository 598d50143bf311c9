//! What stands against planting again.

use serde_json::{Value, json};
use tests::TestApp;

use super::{near, planted, planting, stead, thousandths};

/// A stand of 24,000, near enough, planted on 25 April of the year before and counted in May.
async fn thin_stand(app: &TestApp) -> (tests::Farmstead, String) {
    let stead = stead(app).await;
    planted(&app.lead, &stead, "2026-04-25").await;
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let body = thousandths("2026-05-24", &[24, 24, 24]);
    let id = app.lead.create(&path, &body).await;
    (stead, id)
}

fn table<'a>(told: &'a Value, name: &str) -> &'a Value {
    let tables = told["tables"].as_array().expect("tables");
    tables.iter().find(|it| it["table"] == name).unwrap_or_else(|| panic!("no {name}: {told}"))
}

/// University of Nebraska 2009, worked example by the Iowa table: 24,000 (94 %) against a full stand
/// planted 26 May to 1 June (90 %), about 10 % more off for replant problems.
#[tokio::test]
async fn the_worked_example_of_nebraska_side_by_side_with_the_others() {
    let app = TestApp::start().await;
    let (_, id) = thin_stand(&app).await;
    let path = format!("/v1/stand-counts/{id}/replant-comparison");
    let body = json!({
        "on": "2026-05-29", "seeds": {"value": 31_500, "unit": "1/[acr_us]"},
        "stand": {"value": 30_000, "unit": "1/[acr_us]"}, "expected_yield_bu_ac": 200,
        "money": {"currency": "USD", "price_per_bu": 4.5, "seed_per_ac": 95, "trip_per_ac": 18,
            "killing_per_ac": 14}
    });
    let told = app.advisor.post(&path, &body).await.assert_status(200).json();
    let iowa = table(&told, "iowa_replant");
    assert!(near(&iowa["keep"]["value"], 94.0) && near(&iowa["again"]["value"], 90.0), "{iowa}");
    assert!(near(&iowa["gain"]["value"], -4.0), "{iowa}");
    assert!(near(&iowa["again_low"]["value"], 81.0), "a tenth off: {iowa}");
    assert_eq!((&iowa["region"], &iowa["year"]), (&json!("east-central Iowa"), &json!(2006)));
    assert!(near(&iowa["gain_high_per_ac"], 200.0 * -0.04 * 4.5 - 127.0), "{iowa}");
    let illinois = table(&told, "illinois_date_stand");
    assert!(near(&illinois["keep"]["value"], 97.0), "24,000 on 25 April: {illinois}");
    let money = &told["money"];
    assert!(
        near(&money["cost_per_ac"], 127.0) && near(&money["pays_at"]["value"], 14.1111),
        "{money}"
    );
    assert!(near(&money["cost_of_area"], 127.0 * 40.0), "{money}");
    let known = told["tables"].as_array().expect("tables").len();
    let not = told["not_covered"].as_array().expect("gaps").len();
    assert_eq!(known + not, 5, "every table is named");
    assert!(told["first"][0]["text"].as_str().expect("words").contains("insurer"));
    assert!(told["first"][1]["text"].as_str().expect("words").contains("label"));
    assert!(told["can_not_know"].as_array().expect("list").len() >= 5);
    for order in ["you should", "replant now", "\"decision\"", "\"verdict\""] {
        assert!(!told.to_string().contains(order), "it orders nothing: {order}");
    }
}

#[tokio::test]
async fn late_plants_and_gaps_speak_against_keeping() {
    let app = TestApp::start().await;
    let (stead, plain) = thin_stand(&app).await;
    let counts = format!("/v1/fields/{}/stand-counts", stead.field);
    let mut body = thousandths("2026-05-25", &[24, 24, 24]);
    body["late_by_days"] = json!(14);
    for at in 0..3 {
        body["count"]["counts"][at]["late"] = json!(12);
        body["count"]["counts"][at]["gaps"] = json!({"unit": "[ft_i]", "values": [4.5]});
    }
    let uneven = app.lead.create(&counts, &body).await;
    let asked = json!({"on": "2026-05-29", "seeds": {"value": 31_500, "unit": "1/[acr_us]"}});
    let told = async |id: &str| {
        let path = format!("/v1/stand-counts/{id}/replant-comparison");
        app.advisor.post(&path, &asked).await.assert_status(200).json()
    };
    let (plain, uneven) = (told(&plain).await, told(&uneven).await);
    assert_eq!(uneven["further_loss_low"], json!({"value": 12.0, "unit": "%"}));
    assert_eq!(uneven["further_loss_high"], json!({"value": 18.0, "unit": "%"}));
    let gain = |told: &Value| table(told, "iowa_replant")["gain_high"]["value"].as_f64();
    assert!(gain(&uneven) > gain(&plain));
    assert!(uneven["published"].to_string().contains("three weeks late"), "{uneven}");
    assert!(plain.get("money").is_none());
}

#[tokio::test]
async fn soybean_is_said_to_be_incomplete() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let mut body = planting(&stead, "2026-05-01");
    body["crop"] = json!("soybean");
    body["seeds"] = json!({"value": 150_000, "unit": "1/[acr_us]"});
    let path = format!("/v1/fields/{}/plantings", stead.field);
    app.lead.create(&path, &body).await;
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    let counted = app.lead.create(&path, &thousandths("2026-05-28", &[60, 62, 58])).await;
    let path = format!("/v1/stand-counts/{counted}/replant-comparison");
    let asked = json!({"on": "2026-06-03", "seeds": {"value": 150_000, "unit": "1/[acr_us]"}});
    let told = app.advisor.post(&path, &asked).await.assert_status(200).json();
    assert_eq!(told["tables"], json!([]));
    assert_eq!(told["soybean_keep_low"], json!({"value": 90.0, "unit": "%"}));
    assert_eq!(told["soybean_keep_high"], json!({"value": 100.0, "unit": "%"}));
    let published = told["published"].to_string();
    assert!(published.contains("incomplete") && published.contains("half or more"), "{published}");
    assert!(told["soybean_delay"]["by_source"].is_array());
}

#[tokio::test]
async fn what_does_not_hold_together_is_refused() {
    let app = TestApp::start().await;
    let (_, id) = thin_stand(&app).await;
    let path = format!("/v1/stand-counts/{id}/replant-comparison");
    let good = json!({"on": "2026-05-29", "seeds": {"value": 31_500, "unit": "1/[acr_us]"}});
    let with = |name: &str, value: Value| {
        let mut body = good.clone();
        body[name] = value;
        body
    };
    let money = |currency: &str, price: f64| {
        json!({"currency": currency, "price_per_bu": price, "seed_per_ac": 95, "trip_per_ac": 18,
            "killing_per_ac": 14})
    };
    for (body, pointer) in [
        (with("on", json!("2026-05-20")), "/on"),
        (with("on", json!("2026-12-20")), "/on"),
        (with("seeds", json!({"value": 5, "unit": "1/[acr_us]"})), "/seeds"),
        (with("stand", json!({"value": 35_000, "unit": "1/[acr_us]"})), "/stand"),
        (with("money", money("USD", 4.5)), "/expected_yield_bu_ac"),
    ] {
        let answer = app.advisor.post(&path, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let mut body = with("money", money("dollar", -1.0));
    body["expected_yield_bu_ac"] = json!(200);
    let answer = app.advisor.post(&path, &body).await.assert_problem(422, "invalid_request");
    answer.assert_member("/money/currency");
    answer.assert_member("/money/price_per_bu");
    app.grower.post(&path, &good).await.assert_status(403);
}
