//! Wear for each acre, and when a part reaches its limit.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{acres, discs, inches, inspect, mend, on, path, planter};

async fn wear(app: &TestApp, stead: &Farmstead) -> Value {
    app.grower.get(&path(stead, "wear")).await.assert_status(200).json()
}

fn item<'a>(report: &'a Value, code: &str) -> &'a Value {
    let all = report["items"].as_array().expect("items");
    all.iter().find(|it| it["item"] == code).unwrap_or_else(|| panic!("no {code} in {report}"))
}

fn row(item: &Value, row: u16) -> &Value {
    let rows = item["rows"].as_array().expect("rows");
    rows.iter().find(|it| it["row"] == row).unwrap_or_else(|| panic!("no row {row} in {item}"))
}

fn number(value: &Value) -> f64 {
    value["value"].as_f64().unwrap_or_else(|| panic!("{value} is no quantity"))
}

#[tokio::test]
async fn two_inspections_and_the_counter_give_the_wear_for_each_acre() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let mut first = on("2026-03-12", discs(&[(1, 15.0), (2, 15.0), (3, 15.0)]));
    first["area_counter"] = acres(1000.0);
    inspect(&app.grower, &stead, &first).await;
    let one = wear(&app, &stead).await;
    let alone = row(item(&one, "opener_diameter"), 1);
    assert_eq!(
        (&alone["no_rate"], &alone["outlook"]),
        (&json!("one_reading"), &json!("not_known"))
    );
    assert!(alone.get("wear").is_none() && alone.get("area_left").is_none());

    let mut second = on("2027-04-12", discs(&[(1, 14.8), (2, 14.7)]));
    second["area_counter"] = acres(1800.0);
    second["season_plan"] =
        json!({"area": acres(1000.0), "from": "2027-04-20", "until": "2027-05-21"});
    inspect(&app.grower, &stead, &second).await;
    let report = wear(&app, &stead).await;
    let discs = item(&report, "opener_diameter");
    // By hand: 0.3 in over 800 ac is 0.375 in over 1000 ac; 0.2 in are left, so 533 ac.
    let second_row = row(discs, 2);
    assert_eq!(second_row["wear"]["over"], acres(1000.0));
    assert!((number(&second_row["wear"]["likely"]) - 0.375).abs() < 1e-5);
    assert!((number(&second_row["area_left"]["likely"]) - 533.333).abs() < 0.01);
    let (low, high) = (number(&second_row["wear"]["low"]), number(&second_row["wear"]["high"]));
    assert!(low < 0.375 && 0.375 < high, "{second_row}");
    assert_eq!(
        (&second_row["rate_from"], &second_row["outlook"]),
        (&json!("readings"), &json!("wears_out"))
    );
    // 533 of 1000 ac in 31 days from the 20th of April: 16 whole days.
    assert_eq!(second_row["reaches_on"]["likely"], "2027-05-06");
    // By hand: 0.25 in over 1000 ac, 0.3 in left: 1200 ac, beyond the plan.
    let first_row = row(discs, 1);
    assert!((number(&first_row["area_left"]["likely"]) - 1200.0).abs() < 0.01);
    assert_eq!(
        (&first_row["outlook"], first_row["reaches_on"].get("likely")),
        (&json!("may_wear_out"), None)
    );
    // Row 3 was read once: it goes by the other two.
    let third = row(discs, 3);
    assert_eq!(
        (&third["rate_from"], &third["no_rate"]),
        (&json!("other_rows"), &json!("one_reading"))
    );
    assert!((number(&third["wear"]["likely"]) - 0.3125).abs() < 1e-5);
    assert_eq!((&discs["worst_row"], &discs["outlook"]), (&json!(2), &json!("wears_out")));
    assert_eq!(
        (&discs["spread"]["most_worn"], &discs["spread"]["least_worn"]),
        (&inches(14.7), &inches(15.0))
    );
    assert_eq!(report["plan"]["left"], acres(1000.0));
    let si = app.grower.get(&format!("{}?units=si", path(&stead, "wear"))).await.json();
    let metric = row(item(&si, "opener_diameter"), 2).clone();
    assert_eq!(metric["wear"]["over"], json!({"value": 100.0, "unit": "har"}));
    // 0.375 in over 1000 US survey acres are 9.525 mm over 404.687 ha.
    assert!((number(&metric["wear"]["likely"]) - 2.35367).abs() < 1e-4, "{metric}");
}

#[tokio::test]
async fn plantings_count_where_no_counter_was_read_and_bring_the_limit_nearer() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    inspect(&app.grower, &stead, &on("2026-03-12", discs(&[(1, 15.0)]))).await;
    let plant = async |day: &str, area: f64| {
        let body = json!({"planter_id": stead.planter, "planted_on": day, "crop": "corn", "area": acres(area)});
        let at = format!("/v1/fields/{}/plantings", stead.field);
        app.grower.post(&at, &body).await.assert_status(201);
    };
    let nothing = on("2026-04-01", discs(&[(1, 14.9)]));
    inspect(&app.grower, &stead, &nothing).await;
    let report = wear(&app, &stead).await;
    assert_eq!(row(item(&report, "opener_diameter"), 1)["no_rate"], "no_area", "no acres, no rate");
    plant("2026-05-10", 400.0).await;
    let mut second = on("2027-03-12", discs(&[(1, 14.8)]));
    second["season_plan"] =
        json!({"area": acres(700.0), "from": "2027-04-01", "until": "2027-05-10"});
    inspect(&app.grower, &stead, &second).await;
    let before = wear(&app, &stead).await;
    // 0.2 in over 400 ac; 0.3 in are left: 600 ac.
    let left = number(&row(item(&before, "opener_diameter"), 1)["area_left"]["likely"]);
    assert!((left - 600.0).abs() < 0.01, "{left}");
    plant("2027-04-10", 150.0).await;
    let after = wear(&app, &stead).await;
    let nearer = number(&row(item(&after, "opener_diameter"), 1)["area_left"]["likely"]);
    assert!((nearer - 450.0).abs() < 0.01, "{nearer}");
    assert_eq!(after["planted_this_season"], acres(150.0));
    assert_eq!((&after["plan"]["planted"], &after["plan"]["left"]), (&acres(150.0), &acres(550.0)));
    // Today is the 20th of April: 450 of 550 ac in the 20 days that are left.
    assert_eq!(row(item(&after, "opener_diameter"), 1)["reaches_on"]["likely"], "2027-05-06");
}

#[tokio::test]
async fn a_new_part_begins_anew() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let mut first = on("2026-03-12", discs(&[(1, 14.5), (2, 14.9)]));
    first["area_counter"] = acres(0.0);
    inspect(&app.grower, &stead, &first).await;
    let worn = wear(&app, &stead).await;
    let out = row(item(&worn, "opener_diameter"), 1);
    assert_eq!((&out["outlook"], &out["area_left"]["likely"]), (&json!("worn_out"), &acres(0.0)));
    assert_eq!(out["reaches_on"]["likely"], "2027-04-20", "worn out is today");
    mend(&app.grower, &stead, "opener_diameter", &[1], "2026-03-20").await;
    let renewed = wear(&app, &stead).await;
    let renewed = row(item(&renewed, "opener_diameter"), 1);
    assert_eq!((&renewed["value"], &renewed["read_on"]), (&inches(15.0), &json!("2026-03-20")));
    let mut second = on("2027-03-12", discs(&[(1, 14.8), (2, 14.7)]));
    second["area_counter"] = acres(1000.0);
    inspect(&app.grower, &stead, &second).await;
    let report = wear(&app, &stead).await;
    let discs = item(&report, "opener_diameter");
    for number_of in [1, 2] {
        // 0.2 in over 1000 ac on both, though the first was 14.5 in before.
        assert!(
            (number(&row(discs, number_of)["wear"]["likely"]) - 0.2).abs() < 1e-5,
            "row {number_of}"
        );
    }
}

#[tokio::test]
async fn meters_are_due_by_the_acre_and_start_again_when_they_were_tested() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let body = on("2027-03-12", json!([{"item": "seed_meter", "measured": acres(350.0)}]));
    inspect(&app.grower, &stead, &body).await;
    let before = wear(&app, &stead).await;
    let first = row(item(&before, "seed_meter"), 1);
    assert_eq!(
        (&first["area_left"]["likely"], &first["rate_from"]),
        (&acres(50.0), &json!("definition"))
    );
    let tested = json!({"item": "seed_meter", "repaired_on": "2027-03-20", "new_part": false});
    app.grower.post(&path(&stead, "repairs"), &tested).await.assert_status(201);
    let after = wear(&app, &stead).await;
    assert_eq!(row(item(&after, "seed_meter"), 8)["area_left"]["likely"], acres(400.0));
}
