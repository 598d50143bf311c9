//! Calculations of liquids in the furrow: published numbers, stops, and what is refused.

use serde_json::{Value, json};
use tests::TestApp;

use super::path;
use super::published::q;

async fn told(app: &TestApp, name: &str, body: &Value) -> Value {
    app.read_only.post(&path(name), body).await.assert_status(200).json()
}

fn number(answer: &Value, at: &str) -> f64 {
    let value = answer.pointer(at).unwrap_or_else(|| panic!("no {at} in {answer}"));
    value.as_f64().expect("a number")
}

fn starter(crop: &str, row_width: f64, texture: &str) -> Value {
    json!({"crop": crop, "row_width": q(row_width, "[in_i]"), "texture": texture,
           "nitrogen": q(10.0, "%"), "phosphate": q(34.0, "%"), "potash": q(0.0, "%"),
           "density": q(11.65, "[lb_av]/[gal_us]"), "contains": []})
}

#[tokio::test]
async fn a_catch_gives_the_rate_that_is_printed() {
    let app = TestApp::start().await;
    let course = |ounces: f64, feet: f64, inches: f64| {
        json!({"caught": {"unit": "[foz_us]", "values": [ounces]},
               "over": {"kind": "course", "length": q(feet, "[ft_i]")},
               "width": q(inches, "[in_i]")})
    };
    // University of Florida, band application: 29.5 and 14.5 gal/ac for one tip.
    // Extension slide set, 1/128-acre method: 18.5 x 18.5 ft and 40 oz are 40 gal/ac.
    let printed = [
        (course(26.0, 300.0, 12.0), 29.5, 0.05),
        (course(16.0, 300.0, 15.0), 14.5, 0.05),
        (course(40.0, 18.5, 222.0), 40.0, 1.0),
    ];
    for (body, rate, within) in printed {
        let answer = told(&app, "catch-test", &body).await;
        assert!((number(&answer, "/rate/value") - rate).abs() <= within, "{answer}");
        assert_eq!(answer["off"], json!([]));
    }
}

#[tokio::test]
async fn a_catch_names_the_outlets_that_are_off() {
    let app = TestApp::start().await;
    let body = json!({
        "caught": {"unit": "[foz_us]", "values": [10.0, 10.0, 8.0, 10.0, 0.0]},
        "over": {"kind": "timed", "time": q(60.0, "s"), "speed": q(5.0, "[mi_i]/h")},
        "width": q(30.0, "[in_i]"), "meant": q(3.0, "[gal_us]/[acr_us]")
    });
    let answer = told(&app, "catch-test", &body).await;
    // The mean is 7.6 oz: 32 % above, 5.3 % above, and a plugged outlet.
    assert_eq!(answer["off"], json!([1, 2, 3, 4, 5]));
    assert!((number(&answer, "/outlets/4/from_mean/value") + 100.0).abs() < 1e-6, "{answer}");
    // 7.6 oz a minute / 128 x 5,940 / (5 x 30) is 2.351 gal/ac, 21.6 % under 3.
    assert!((number(&answer, "/rate/value") - 2.351).abs() < 0.001, "{answer}");
    assert!((number(&answer, "/from_meant/value") + 21.62).abs() < 0.02, "{answer}");

    let mut dry = body.clone();
    dry["caught"]["values"] = json!([0.0, 0.0]);
    let refused = app.read_only.post(&path("catch-test"), &dry).await;
    let entry = refused.assert_problem(422, "invalid_request").assert_member("/caught/values");
    assert!(entry["detail"].as_str().unwrap().contains("nothing came out"), "{entry}");
    let mut none = body;
    none["caught"]["values"] = json!([]);
    let refused = app.read_only.post(&path("catch-test"), &none).await;
    refused.assert_problem(422, "invalid_request").assert_member("/caught/values");
}

#[tokio::test]
async fn flow_and_catch_fit_together() {
    let app = TestApp::start().await;
    let flow = json!({"rate": q(154.0, "L/har"), "speed": q(15.0, "km/h"), "width": q(0.75, "m"),
        "tank": q(400.0, "L"), "product_rate": q(77.0, "L/har"), "area": q(10.0, "har")});
    let answer = app.read_only.post(&format!("{}?units=si", path("in-furrow-flow")), &flow).await;
    let answer = answer.assert_status(200).json();
    // L/ha x km/h x m / 600.
    assert!((number(&answer, "/flow/value") - 2.8875).abs() < 1e-4, "{answer}");
    assert_eq!(answer["flow"]["unit"], "L/min");
    // 400 / 154 is 2.597 ha: four tanks for 10 ha, half of each is product.
    assert!((number(&answer, "/tank/area/value") - 2.5974).abs() < 1e-3, "{answer}");
    assert_eq!(answer["tank"]["fills"], 4);
    assert!((number(&answer, "/tank/product/value") - 200.0).abs() < 1e-6, "{answer}");
    assert!((number(&answer, "/tank/product_in_all/value") - 770.0).abs() < 1e-3, "{answer}");

    let mut odd = flow;
    odd["product_rate"] = q(155.0, "L/har");
    let refused = app.read_only.post(&path("in-furrow-flow"), &odd).await;
    refused.assert_problem(422, "invalid_request").assert_member("/product_rate");
}

#[tokio::test]
async fn salt_limits_are_those_that_are_printed() {
    let app = TestApp::start().await;
    // Kansas State University eUpdate article 3091.
    let printed = [
        ("silt_loam", [(20.0, 12.0), (30.0, 8.0), (40.0, 6.0)]),
        ("loamy_sand", [(20.0, 8.0), (30.0, 6.0), (40.0, 4.0)]),
    ];
    for (texture, limits) in printed {
        for (width, pounds) in limits {
            let answer = told(&app, "salt-limit", &starter("corn", width, texture)).await;
            assert!((number(&answer, "/limit/value") - pounds).abs() < 1e-4, "{answer}");
            // One limit per length of row on the heavier soils.
            let steps = answer["trace"].as_array().unwrap();
            let row = steps.iter().find(|s| s["unit"] == "[lb_av]/(1000.[ft_i])").unwrap();
            let medium = texture == "silt_loam";
            assert_eq!((number(row, "/value") - 0.459).abs() < 0.001, medium, "{row}");
        }
    }
    // Michigan State University Extension: 5 lb/ac below 7 meq/100 g.
    let mut poor = starter("corn", 30.0, "silt_loam");
    poor["exchange_capacity"] = q(5.0, "meq/hg");
    let answer = told(&app, "salt-limit", &poor).await;
    assert!((number(&answer, "/limit/value") - 5.0).abs() < 1e-4, "{answer}");
    let others = answer["other_limits"].as_array().unwrap();
    let applies: Vec<&Value> = others.iter().map(|it| &it["applies"]).collect();
    assert_eq!(applies, [&json!(true), &json!(false), &json!(true)]);
    let indexes = answer["salt_indexes"].as_array().unwrap();
    assert!(indexes.iter().all(|k| k["mark"] == "from_memory" || k["mark"] == "common_practice"));
}

#[tokio::test]
async fn a_stop_stays_a_stop() {
    let app = TestApp::start().await;
    let soybean = starter("soybean", 15.0, "silt_loam");
    let answer = told(&app, "salt-limit", &soybean).await;
    assert_eq!(
        (&answer["verdict"], &answer["stops"]),
        (&json!("stop"), &json!(["fertilizer_on_soybean"]))
    );
    assert!(number(&answer, "/limit/value").abs() < 1e-9, "{answer}");
    assert!(answer["product_rate"].is_null() && answer["most_product"].is_null(), "{answer}");
    for (harmful, stop) in
        [("urea", "urea"), ("uan", "uan"), ("ammonium_thiosulfate", "ammonium_thiosulfate")]
    {
        let mut body = starter("corn", 30.0, "silt_loam");
        body["contains"] = json!([harmful]);
        body["rate"] = q(0.01, "[gal_us]/[acr_us]");
        let answer = told(&app, "salt-limit", &body).await;
        assert_eq!(answer["stops"], json!([stop]), "{answer}");
        assert!(answer["limit"].is_null() && answer["product_rate"].is_null(), "{answer}");
    }
    let narrow = told(&app, "salt-limit", &starter("corn", 10.0, "silt_loam")).await;
    assert_eq!(narrow["stops"], json!(["no_published_limit"]));
    let seed_placed = json!({"crop": "soybean", "material": "uan", "soil": "moist_coarse",
        "furrow_width": q(1.0, "[in_i]"), "row_width": q(15.0, "[in_i]")});
    let answer = told(&app, "seed-placed-fertilizer", &seed_placed).await;
    assert_eq!(answer["stops"], json!(["fertilizer_on_soybean", "uan"]));
    // 30 x 1 x 10 / (1.703 x 15), and 40 % less on coarse soil.
    assert!((number(&answer, "/material/value") - 7.0464).abs() < 0.001, "{answer}");
}

#[tokio::test]
async fn what_makes_no_sense_is_refused() {
    let app = TestApp::start().await;
    let mut full = starter("corn", 30.0, "silt_loam");
    full["potash"] = q(60.0, "%");
    let refused = app.read_only.post(&path("salt-limit"), &full).await;
    let entry = refused.assert_problem(422, "invalid_request").assert_member("/nitrogen");
    assert!(entry["detail"].as_str().unwrap().contains("100 %"), "{entry}");
    let dry = json!({"crop": "corn", "material": "urea", "soil": "dry_medium_or_fine",
        "furrow_width": q(1.0, "[in_i]"), "row_width": q(30.0, "[in_i]")});
    let refused = app.read_only.post(&path("seed-placed-fertilizer"), &dry).await;
    let entry = refused.assert_problem(422, "invalid_request").assert_member("/moisture_texture");
    assert!(entry["detail"].as_str().unwrap().contains("dry soil"), "{entry}");
    let mut known = dry;
    known["moisture_texture"] = json!(2.0);
    let answer = told(&app, "seed-placed-fertilizer", &known).await;
    // 30 x 1 x 10 / (0.965 x 30 x 2).
    assert!((number(&answer, "/material/value") - 5.1813).abs() < 0.001, "{answer}");
    known["moisture_texture"] = json!(0.5);
    let refused = app.read_only.post(&path("seed-placed-fertilizer"), &known).await;
    refused.assert_problem(422, "invalid_request").assert_member("/moisture_texture");
}
