//! The seed to order for the fields of a planter.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

fn path(stead: &Farmstead) -> String {
    format!("/v1/planters/{}/seed-order", stead.planter)
}

fn rate(seeds: f64) -> Value {
    json!({"seeding": {"kind": "rate", "seeds": {"value": seeds, "unit": "1/[acr_us]"}}})
}

/// Another field of the farm, with or without an area.
async fn field(user: &User, stead: &Farmstead, name: &str, acres: Option<f64>) -> String {
    let mut body = json!({"farm_id": stead.farm, "name": name});
    if let Some(acres) = acres {
        body["entered_area"] = json!({"value": acres, "unit": "[acr_us]"});
    }
    user.create("/v1/fields", &body).await
}

/// A report of a crop, and a draft with these goals; its id.
async fn advise(user: &User, stead: &Farmstead, field: &str, crop: &str, goals: &Value) -> String {
    let mut seen = Farmstead::conditions_body();
    seen["crop"] = json!(crop);
    user.create(&format!("/v1/fields/{field}/conditions"), &seen).await;
    let body = json!({"field_id": field, "planter_id": stead.planter, "goals": goals});
    user.create("/v1/recommendations", &body).await
}

fn reason<'a>(answer: &'a Value, field: &str) -> &'a str {
    let left_out = answer["left_out"].as_array().expect("a list");
    let found = left_out.iter().find(|it| it["field_id"] == field);
    found.and_then(|it| it["reason"].as_str()).unwrap_or_else(|| panic!("no {field}: {answer}"))
}

#[tokio::test]
async fn each_field_is_in_the_order_or_left_out_with_the_reason() {
    let app = TestApp::start().await;
    let user = &app.lead;
    let stead = Farmstead::of_grower(user, &app.own_grower_id).await;
    // The sample field has 40 acres.
    let first = advise(user, &stead, &stead.field, "corn", &rate(30_000.0)).await;
    let newest = advise(user, &stead, &stead.field, "corn", &rate(34_000.0)).await;
    let plain = advise(user, &stead, &stead.field, "corn", &json!({})).await;
    let east = field(user, &stead, "East", Some(60.0)).await;
    advise(user, &stead, &east, "corn", &rate(32_000.0)).await;
    let beans = field(user, &stead, "Beans", Some(10.0)).await;
    advise(user, &stead, &beans, "soybean", &rate(140_000.0)).await;
    let bare = field(user, &stead, "No area", None).await;
    advise(user, &stead, &bare, "corn", &rate(32_000.0)).await;
    let silent = field(user, &stead, "No rate", Some(5.0)).await;
    advise(user, &stead, &silent, "corn", &json!({})).await;
    let untouched = field(user, &stead, "Untouched", Some(5.0)).await;

    let answer = user.get(&path(&stead)).await.assert_status(200).json();
    assert_eq!(reason(&answer, &bare), "no_area");
    assert_eq!(reason(&answer, &silent), "no_seeding_rate");
    assert_eq!(reason(&answer, &untouched), "no_recommendation");
    let orders = answer["orders"].as_array().expect("orders");
    assert_eq!(orders.len(), 2, "{answer}");
    let (corn, soybean) = (&orders[0], &orders[1]);
    // 40 x 34,000 + 60 x 32,000 = 3,280,000 kernels, 3 % to spare: 42.23 bags.
    assert_eq!(corn["order"]["crop"], "corn");
    assert_eq!(corn["order"]["seeds"].as_f64(), Some(3_280_000.0));
    assert_eq!(corn["order"]["units"].as_f64(), Some(43.0));
    let chosen: Vec<&Value> = corn["fields"].as_array().expect("fields").iter().collect();
    assert_eq!(chosen.len(), 2);
    let own = chosen.iter().find(|it| it["field_id"] == stead.field.as_str()).expect("the field");
    assert_eq!(own["recommendation_id"], newest.as_str(), "not {first}, nor {plain}");
    assert_eq!(own["status"], "draft");
    // 10 x 140,000 soybeans, 3 % to spare: 10.3 units.
    assert_eq!(soybean["order"]["units"].as_f64(), Some(11.0));
    assert!(soybean["order"]["assumed"][0]["mark"] == "from_memory", "{soybean}");

    let si = user.get(&format!("{}?units=si", path(&stead))).await.assert_status(200).json();
    assert_eq!(si["orders"][0]["order"]["area"]["unit"], "har");
    assert_eq!(si["orders"][0]["order"]["weight"]["unit"], "kg");
    assert_eq!(si["orders"][0]["order"]["units"], corn["order"]["units"]);
}

#[tokio::test]
async fn a_grower_orders_by_what_was_issued_and_a_season_by_its_year() {
    let app = TestApp::start().await;
    let user = &app.lead;
    let mut stead = Farmstead::of_grower(user, &app.own_grower_id).await;
    let none = app.grower.get(&path(&stead)).await.assert_status(200).json();
    assert_eq!((none["orders"].clone(), none.get("season")), (json!([]), None));
    stead.recommendation = advise(user, &stead, &stead.field, "corn", &rate(34_000.0)).await;
    let draft = app.grower.get(&path(&stead)).await.assert_status(200).json();
    assert_eq!(draft["orders"], json!([]), "a draft is not for the grower");
    assert_eq!(reason(&draft, &stead.field), "no_recommendation");
    stead.issue(user).await;
    let issued = app.grower.get(&path(&stead)).await.assert_status(200).json();
    assert_eq!(issued["orders"][0]["fields"][0]["status"], "issued");
    let season = issued["season"].as_i64().expect("a year");
    let asked = |year: i64| format!("{}?season={year}", path(&stead));
    let same = app.grower.get(&asked(season)).await.assert_status(200).json();
    assert_eq!(same, issued);
    let before = app.grower.get(&asked(season - 1)).await.assert_status(200).json();
    assert_eq!(before["orders"], json!([]));
    let answer = app.grower.get(&asked(1800)).await;
    answer.assert_problem(422, "invalid_request").assert_member("?season");
}

#[tokio::test]
async fn the_seed_of_others_is_not_there() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Somebody else").await;
    app.grower.get(&path(&stead)).await.assert_problem(404, "not_found");
    app.nobody.get(&path(&stead)).await.assert_problem(401, "unauthenticated");
}
