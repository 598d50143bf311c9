//! The list for the shed.

use serde_json::{Value, json};
use tests::TestApp;

use super::{acres, discs, inches, inspect, mend, on, path, planter};

fn line<'a>(list: &'a Value, item: &str) -> &'a Value {
    let all = list["items"].as_array().expect("items");
    all.iter().find(|it| it["item"] == item).unwrap_or_else(|| panic!("no {item} in {list}"))
}

#[tokio::test]
async fn it_says_what_how_many_for_which_rows_and_at_which_price() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let manual = json!({"currency": "USD", "parts": [
        {"item": "opener_diameter", "price_each": 41.55}, {"item": "seed_meter", "price_each": 30}
    ]});
    app.grower.put(&path(&stead, "wear-limits"), "*", &manual).await.assert_status(200);
    let mut body = discs(&[(3, 14.4), (4, 14.5), (5, 14.9)]);
    body.as_array_mut().expect("a list").extend([
        json!({"item": "seed_meter", "rows": [1, 2], "status": "replace"}),
        json!({"item": "opener_contact", "rows": [1], "measured": inches(1.0)}),
    ]);
    inspect(&app.grower, &stead, &on("2027-03-12", body)).await;
    let at = format!("/v1/parts-list?planter_id={}", stead.planter);
    let list = app.grower.get(&at).await.assert_status(200).json();
    let new_discs = line(&list, "opener_diameter");
    assert_eq!((&new_discs["count"], &new_discs["action"]), (&json!(4), &json!("buy")));
    let place = &new_discs["for"][0];
    assert_eq!((&place["rows"], &place["due"]), (&json!([3, 4]), &json!("now")));
    assert_eq!((&place["price"], &place["currency"]), (&json!(166.2), &json!("USD")));
    let tested = line(&list, "seed_meter");
    assert_eq!((&tested["action"], &tested["count"]), (&json!("service"), &json!(0)));
    assert_eq!(tested["for"][0]["price"], 60.0, "two meters at 30");
    assert_eq!(line(&list, "opener_contact")["action"], "adjust");
    assert_eq!(list["prices"], json!([{"currency": "USD", "sum": 226.2}]));
    assert_eq!((&list["without_price"], &list["planters"]), (&json!(1), &json!(1)));
}

#[tokio::test]
async fn it_adds_planters_up_and_shows_nobody_elses() {
    let app = TestApp::start().await;
    let (one, two) =
        (planter(&app).await, tests::Farmstead::make(&app.lead, "Another grower").await);
    for stead in [&one, &two] {
        let body = on(
            "2027-03-12",
            json!([{"item": "seed_tube", "rows": [1, 2, 3], "status": "replace"}]),
        );
        inspect(&app.lead, stead, &body).await;
    }
    let all = app.lead.get("/v1/parts-list").await.assert_status(200).json();
    assert_eq!((&line(&all, "seed_tube")["count"], &all["planters"]), (&json!(6), &json!(2)));
    let own = app.grower.get("/v1/parts-list").await.assert_status(200).json();
    assert_eq!((&line(&own, "seed_tube")["count"], &own["planters"]), (&json!(3), &json!(1)));
    assert!(!own.to_string().contains(two.planter.as_str()));
    let of = format!("/v1/parts-list?grower_id={}", two.grower);
    assert_eq!(line(&app.lead.get(&of).await.json(), "seed_tube")["count"], 3);
    assert_eq!(app.grower.get(&of).await.assert_status(200).json()["items"], json!([]));
    mend(&app.lead, &one, "seed_tube", &[1, 3], "2027-03-13").await;
    let left = app.grower.get("/v1/parts-list").await.json();
    assert_eq!(
        line(&left, "seed_tube")["for"][0]["rows"],
        json!([2]),
        "what was mended is off the list"
    );
}

#[tokio::test]
async fn what_wears_out_this_season_is_on_it_too() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let mut first = on("2026-03-12", discs(&[(1, 15.0), (2, 15.0)]));
    first["area_counter"] = acres(0.0);
    inspect(&app.grower, &stead, &first).await;
    let mut second = on("2027-03-12", discs(&[(1, 14.65), (2, 14.95)]));
    second["area_counter"] = acres(700.0);
    second["season_plan"] =
        json!({"area": acres(700.0), "from": "2027-04-20", "until": "2027-05-20"});
    inspect(&app.grower, &stead, &second).await;
    let at = format!("/v1/parts-list?planter_id={}", stead.planter);
    let list = app.grower.get(&at).await.assert_status(200).json();
    // Row 1 has 0.15 in left at 0.5 in for 1000 ac: 300 ac. Row 2 goes on for thousands.
    let places = line(&list, "opener_diameter")["for"].clone();
    assert_eq!((&places[0]["rows"], &places[0]["due"]), (&json!([1]), &json!("this_season")));
    assert_eq!(places.as_array().expect("places").len(), 1);
    let whole = app.grower.get("/v1/parts-list").await.json();
    assert_eq!(whole["items"], json!([]), "over a whole practice only what is due now");
}
