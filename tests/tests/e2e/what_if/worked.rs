//! Cases with more than one number: printed classes, borders, and balances by hand.

use serde_json::{Value, json};
use tests::TestApp;

use super::published::q;

#[tokio::test]
async fn discs_are_kept_above_the_limit_and_replaced_at_it() {
    let app = TestApp::start().await;
    // Iowa State University, planter pre-plant checklist: a 15 in disc is replaced at 14.5 in.
    for (now, verdict) in [(14.75, "keep"), (14.5, "replace"), (14.4, "replace")] {
        let body = json!({"new_diameter": q(15.0, "[in_i]"), "measured": q(now, "[in_i]")});
        let answer = app.read_only.post("/v1/what-if/disc-wear", &body).await.assert_status(200);
        assert_eq!(answer.json()["verdict"], verdict, "{now}");
    }
}

#[tokio::test]
async fn texture_points_fall_into_the_printed_classes() {
    let app = TestApp::start().await;
    // Twelve points printed in a software manual, by the class rules of USDA-NRCS: sand, clay.
    for (sand, clay, class) in [
        (90.0, 5.0, "sand"),
        (32.0, 60.0, "clay"),
        (70.0, 15.0, "sandy_loam"),
        (70.0, 5.0, "sandy_loam"),
        (20.0, 25.0, "silt_loam"),
        (10.0, 5.0, "silt"),
        (10.0, 25.0, "silt_loam"),
        (10.0, 45.0, "silty_clay"),
        (20.0, 65.0, "clay"),
        (10.0, 75.0, "clay"),
        (70.0, 13.0, "sandy_loam"),
        (10.0, 47.0, "silty_clay"),
    ] {
        let body = json!({"sand": q(sand, "%"), "clay": q(clay, "%")});
        let answer = app.read_only.post("/v1/what-if/texture", &body).await.assert_status(200);
        assert_eq!(answer.json()["class"], class, "{sand} {clay}");
    }
}

#[tokio::test]
async fn spacing_indices_of_the_vector_with_every_border() {
    let app = TestApp::start().await;
    let spacings = [
        8.0, 8.5, 7.5, 4.0, 12.0, 12.5, 16.0, 3.0, 8.0, 9.0, 7.0, 8.0, 24.0, 0.5, 8.0, 7.75, 8.25,
        20.0, 28.0, 30.0,
    ];
    let body =
        json!({"spacings": {"unit": "[in_i]", "values": spacings}, "meant": q(8.0, "[in_i]")});
    let answer = app.read_only.post("/v1/what-if/spacing-quality", &body).await;
    let answer = answer.assert_status(200).json();
    let regions = json!({
        "multiples": 3, "singles": 11, "one_skip": 3, "two_skips": 2, "more_skips": 1
    });
    assert_eq!(answer["regions"], regions);
    for (at, value) in [
        ("/multiples/value", 15.0),
        ("/quality_of_feed/value", 55.0),
        ("/miss/value", 30.0),
        ("/singles_mean/value", 8.363_636),
        ("/singles_sd/value", 1.310_361),
        ("/precision_over_meant/value", 16.379_51),
        ("/precision_over_singles_mean/value", 15.667_358),
        ("/mean/value", 11.5),
        ("/sd/value", 8.075_711),
        ("/cv/value", 70.223_573),
    ] {
        let found = answer.pointer(at).and_then(Value::as_f64).expect("a number");
        // Answers carry six digits.
        assert!((found - value).abs() <= 1e-5 * value, "{at}: {found}, not {value}");
    }
}

#[tokio::test]
async fn rows_are_the_units_of_depth_statistics() {
    let app = TestApp::start().await;
    // Davies and Goldsmith 1972: six batches of five, grams taken as thousandths of an inch.
    let batches = [
        [1545.0, 1440.0, 1440.0, 1520.0, 1580.0],
        [1540.0, 1555.0, 1490.0, 1560.0, 1495.0],
        [1595.0, 1550.0, 1605.0, 1510.0, 1560.0],
        [1445.0, 1440.0, 1595.0, 1465.0, 1545.0],
        [1595.0, 1630.0, 1515.0, 1635.0, 1625.0],
        [1520.0, 1455.0, 1450.0, 1480.0, 1445.0],
    ];
    let row = |(index, batch): (usize, &[f64; 5])| {
        let depths: Vec<f64> = batch.iter().map(|x| x / 1000.0).collect();
        json!({"row": index + 1, "depths": {"unit": "[in_i]", "values": depths}})
    };
    let rows: Vec<Value> = batches.iter().enumerate().map(row).collect();
    let body = json!({"crop": "soybean", "depth_wanted": q(1.5, "[in_i]"), "rows_of_planter": 6, "rows": rows});
    let answer = app.read_only.post("/v1/what-if/depth-statistics", &body).await;
    let answer = answer.assert_status(200).json();
    // t(0.975, 5) = 2.570582; standard error of the grand mean 19.383412.
    let half = 2.570_582 * 0.019_383_412;
    for (at, value) in [
        ("/planter/mean/value", 1.5275),
        ("/planter/low/value", 1.5275 - half),
        ("/planter/high/value", 1.5275 + half),
        ("/sd_between_rows/value", 0.042_000_595),
        ("/sd_within_rows/value", 0.049_510_1),
        ("/intraclass", 0.418_487),
    ] {
        let found = answer.pointer(at).and_then(Value::as_f64).expect("a number");
        assert!((found - value).abs() <= 6e-6, "{at}: {found}, not {value}");
    }
    assert_eq!(answer["seeds"], 30);
    assert_eq!(answer["planter"]["rows"], 6);
}

#[tokio::test]
async fn a_unit_that_rides_out_has_no_load_and_says_what_it_needs() {
    let app = TestApp::start().await;
    let n = |value| q(value, "N");
    let body = |down: f64, state: f64| {
        json!({"depth": q(50.0, "mm"), "coulter_above_opener": q(6.0, "mm"), "unit_weight": n(778.0),
            "seed_weight": n(300.0), "attachment_weight": n(350.0), "down_force": n(down),
            "opener_resistance": n(500.0), "coulter_resistance": n(900.0), "depth_exponent": 1,
            "soil_state": state, "closing_lift": n(110.0), "load_wanted": n(783.0)})
    };
    let path = "/v1/what-if/row-unit-forces?units=si";
    let number =
        |answer: &Value, at: &str| answer.pointer(at).and_then(Value::as_f64).expect("a number");
    // Moist soil, by hand: 500 + 792 + 110 + 783 - 778 - 300 - 350 = 757 N.
    let moist = app.advisor.post(path, &body(757.0, 1.0)).await.assert_status(200).json();
    assert!((number(&moist, "/parts/opener/value") - 500.0).abs() < 0.5, "{moist}");
    assert!((number(&moist, "/parts/coulter/value") - 792.0).abs() < 0.5, "{moist}");
    assert!((number(&moist, "/down_force_needed/value") - 757.0).abs() < 0.5, "{moist}");
    assert!((number(&moist, "/gauge_wheel_load/value") - 783.0).abs() < 0.5, "{moist}");
    assert_eq!(moist["rides_out"], false);
    // Hard and dry, springs at their limit of 1779 N: the balance is -3.8 N and nothing is left.
    let hard = app.advisor.post(path, &body(1779.0, 2.4)).await.assert_status(200).json();
    assert!((number(&hard, "/balance/value") + 3.8).abs() < 0.5, "{hard}");
    assert!((number(&hard, "/down_force_needed/value") - 2565.8).abs() < 0.5, "{hard}");
    assert_eq!(hard["gauge_wheel_load"], json!({"value": 0.0, "unit": "N"}));
    assert_eq!(hard["rides_out"], true);
}

#[tokio::test]
async fn what_is_not_given_is_taken_from_the_coefficients_and_said() {
    let app = TestApp::start().await;
    let body = json!({"depth": q(2.0, "[in_i]")});
    let answer = app.advisor.post("/v1/what-if/row-unit-forces", &body).await;
    let answer = answer.assert_status(200).json();
    let names: Vec<&str> = answer["defaults"]
        .as_array()
        .expect("defaults")
        .iter()
        .map(|k| k["name"].as_str().expect("a name"))
        .collect();
    for name in [
        "unit_weight",
        "attachment_weight",
        "closing_lift",
        "opener_resistance",
        "depth_exponent",
        "soil_moist",
        "contact_loss_aimed",
        "load_scatter",
    ] {
        assert!(names.contains(&name), "{name} is not in {names:?}");
    }
    assert!(!names.contains(&"coulter_resistance"), "{names:?}");
}

#[tokio::test]
async fn a_wait_from_wet_soil_is_not_overridden_by_warmth() {
    let app = TestApp::start().await;
    let field = |ribbon: f64| {
        json!({"observed_at": "2027-04-20T10:00:00Z", "crop": "corn", "texture": "silt_loam",
            "moisture": "moist", "ribbon": q(ribbon, "[in_i]"), "soil_temperature": q(62.0, "[degF]")})
    };
    let path = "/v1/what-if/fitness";
    let wet = app.grower.post(path, &field(4.0)).await.assert_status(200).json();
    assert_eq!(wet["today"], "wait", "{wet}");
    let fit = app.grower.post(path, &field(1.0)).await.assert_status(200).json();
    assert_eq!(fit["today"], "plant", "{fit}");
}
