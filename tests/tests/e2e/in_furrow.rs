//! A liquid in the furrow, from the goals of a recommendation to the sheet in the cab.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn q(value: f64, unit: &str) -> Value {
    json!({"value": value, "unit": unit})
}

fn starter(rate: f64) -> Value {
    json!({
        "product": {"kind": "starter", "nitrogen": q(10.0, "%"), "phosphate": q(34.0, "%"),
                    "potash": q(0.0, "%"), "density": q(11.65, "[lb_av]/[gal_us]")},
        "rate": q(rate, "[gal_us]/[acr_us]"), "contains": [],
        "tank": q(400.0, "[gal_us]"), "area": q(120.0, "[acr_us]")
    })
}

/// A farmstead whose field is to carry this crop.
async fn stead(app: &TestApp, crop: &str) -> Farmstead {
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    see(app, &stead, crop).await;
    stead
}

/// Looks at the field again, for this crop.
async fn see(app: &TestApp, stead: &Farmstead, crop: &str) {
    let mut seen = Farmstead::conditions_body();
    seen["crop"] = json!(crop);
    app.lead.create(&format!("/v1/fields/{}/conditions", stead.field), &seen).await;
}

/// The recommendation with such a liquid, and its id.
async fn recommended(app: &TestApp, stead: &Farmstead, liquid: &Value) -> (Value, String) {
    let goals = json!({"speed": q(5.0, "[mi_i]/h"), "in_furrow": liquid});
    let wanted = stead.recommendation_body(&goals);
    let answer = app.lead.post("/v1/recommendations", &wanted).await.assert_status(201);
    (answer.json(), answer.id())
}

async fn sheet(app: &TestApp, id: &str, units: &str) -> String {
    let path = format!("/v1/recommendations/{id}/sheet?units={units}");
    app.lead.get(&path).await.assert_status(200).text
}

#[tokio::test]
async fn too_much_starter_is_lowered_and_the_sheet_says_what_to_catch() {
    let app = TestApp::start().await;
    let stead = stead(&app, "corn").await;
    let (told, id) = recommended(&app, &stead, &starter(10.0)).await;
    let it = &told["settings"]["in_furrow"];
    assert_eq!(it["verdict"], "lower");
    // 8 lb/ac of N at 1.165 lb/gal is 6.87 gal/ac, which is set at 6.8.
    assert_eq!(it["rate"], q(6.8, "[gal_us]/[acr_us]"));
    assert_eq!(it["salt"]["limit"], q(8.0, "[lb_av]/[acr_us]"));
    assert_eq!(it["salt"]["most_product"], q(6.86, "[gal_us]/[acr_us]"));
    assert_eq!(it["salt"]["other_limits"].as_array().unwrap().len(), 3);
    let outlet = &it["outlet"];
    let speed = told["settings"]["speed"]["value"].clone();
    assert_eq!(outlet["speed"], speed, "the flow is for the speed that is advised");
    let mph = speed["value"].as_f64().unwrap();
    let ounces = outlet["in_a_minute"]["ounces"]["value"].as_f64().unwrap();
    // 128 x 6.8 x mph x 30 / 5,940.
    assert!((ounces - 128.0 * 6.8 * mph * 30.0 / 5940.0).abs() < 0.06, "{outlet}");
    assert_eq!(outlet["on_course"]["ounces"], q(6.8, "[foz_us]"));
    assert_eq!(it["tank"]["area"], q(58.8, "[acr_us]"));
    assert_eq!(it["tank"]["fills"], 3);
    for step in ["N + K2O in the product", "most N + K2O in the furrow", "flow through an outlet"] {
        let steps = told["trace"].as_array().unwrap();
        assert!(steps.iter().any(|it| it["step"] == step), "no {step}");
    }
    assert!(told["cautions"].as_array().unwrap().iter().any(|it| it["code"] == "in_furrow_label"));
    let page = sheet(&app, &id, "us").await;
    let minute = format!("{ounces} fl oz");
    for text in ["In furrow", "6.8 gal/ac AND NO MORE", &minute, "136.13 ft", "58.8 ac"] {
        assert!(page.contains(text), "no {text} in {page}");
    }
}

#[tokio::test]
async fn nothing_that_is_entered_lifts_a_stop() {
    let app = TestApp::start().await;
    let field = stead(&app, "soybean").await;
    let mut thin = starter(0.1);
    thin["product_rate"] = q(0.01, "[gal_us]/[acr_us]");
    thin["exchange_capacity"] = q(40.0, "meq/hg");
    for liquid in [starter(3.0), thin] {
        let (told, id) = recommended(&app, &field, &liquid).await;
        let it = &told["settings"]["in_furrow"];
        assert_eq!(
            (&it["verdict"], &it["stops"]),
            (&json!("stop"), &json!(["fertilizer_on_soybean"]))
        );
        for member in ["rate", "product_rate", "outlet", "tank", "salt"] {
            assert!(it[member].is_null(), "{member} on a stop: {it}");
        }
        let page = sheet(&app, &id, "us").await;
        assert!(page.contains("NOT IN THE FURROW"), "{page}");
        assert!(page.contains("Soybean: no fertilizer in the furrow"), "{page}");
        assert!(!page.contains("a minute at"), "nothing to set on a stop");
    }
    see(&app, &field, "corn").await;
    let liquid = json!({"product": {"kind": "by_label"}, "contains": ["uan", "urea", "uan"],
                        "rate": q(1.0, "[gal_us]/[acr_us]")});
    let (told, id) = recommended(&app, &field, &liquid).await;
    assert_eq!(told["settings"]["in_furrow"]["stops"], json!(["uan", "urea"]));
    assert!(sheet(&app, &id, "si").await.contains("NOT IN THE FURROW"));
}

#[tokio::test]
async fn an_inoculant_goes_by_its_label_with_its_care() {
    let app = TestApp::start().await;
    let soybean = stead(&app, "soybean").await;
    let mut liquid = json!({"product": {"kind": "inoculant", "years_since_soybean": 5},
                            "mixed_with": 4});
    let (told, id) = recommended(&app, &soybean, &liquid).await;
    let it = &told["settings"]["in_furrow"];
    assert_eq!((&it["verdict"], &it["rate"]), (&json!("by_label"), &Value::Null));
    let said = |list: &Value, text: &str| {
        list.as_array().unwrap().iter().any(|it| it["text"].as_str().unwrap().contains(text))
    };
    assert!(said(&it["because"], "no soybean here for 5 years"), "{it}");
    for text in ["40 to 77 °F", "not chlorinated", "label forbids", "jar test", "no more than 3"] {
        assert!(said(&it["watch"], text), "no {text} in {it}");
    }
    assert!(sheet(&app, &id, "us").await.contains("The rate on its label"));
    liquid["rate"] = q(100.0, "L/har");
    let (told, id) = recommended(&app, &soybean, &liquid).await;
    assert!(told["settings"]["in_furrow"]["outlet"].is_object(), "{told}");
    let page = sheet(&app, &id, "si").await;
    assert!(page.contains("100 L/ha") && page.contains(" m of row"), "{page}");
}

#[tokio::test]
async fn soil_that_nobody_looked_at_is_taken_as_the_one_that_bears_least() {
    let app = TestApp::start().await;
    let stead = stead(&app, "corn").await;
    let field = format!("/v1/fields/{}", stead.field);
    app.lead.patch(&field, "*", &json!({"texture_class": null})).await.assert_status(200);
    let mut seen = Farmstead::conditions_body();
    seen["moisture"] = json!("dry");
    seen.as_object_mut().unwrap().remove("texture");
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    app.lead.create(&reports, &seen).await;
    let mut liquid = starter(5.0);
    liquid.as_object_mut().unwrap().remove("contains");
    let (told, id) = recommended(&app, &stead, &liquid).await;
    // 6 lb/ac on sand in 30 in rows.
    let limit = &told["settings"]["in_furrow"]["salt"]["limit"];
    assert_eq!(limit, &q(6.0, "[lb_av]/[acr_us]"));
    let assumed = |what: &str| {
        let all = told["assumed"].as_array().unwrap();
        all.iter().any(|it| it["what"].as_str().unwrap().contains(what))
    };
    assert!(assumed("texture, for salt") && assumed("urea, UAN"), "{}", told["assumed"]);
    assert!(sheet(&app, &id, "us").await.contains("Dry soil: salt burns more"));
}

#[tokio::test]
async fn a_liquid_that_makes_no_sense_is_refused_by_member() {
    let app = TestApp::start().await;
    let stead = stead(&app, "corn").await;
    let with = |pointer: &str, value: Value| {
        let mut liquid = starter(5.0);
        let (parent, name) = pointer.rsplit_once('/').unwrap();
        liquid.pointer_mut(parent).unwrap()[name] = value;
        liquid
    };
    let bad = [
        (with("/product/potash", q(60.0, "%")), "/product/nitrogen"),
        (with("/product/density", q(3.0, "kg/L")), "/product/density"),
        (with("/product/density", q(3.0, "[lb_av]")), "/product/density"),
        (with("/product/kind", json!("miracle")), "/product/kind"),
        (with("/rate", q(500.0, "[gal_us]/[acr_us]")), "/rate"),
        (with("/product_rate", q(6.0, "[gal_us]/[acr_us]")), "/product_rate"),
        (with("/mixed_with", json!(11)), "/mixed_with"),
        (with("/contains", json!(["salt"])), "/contains/0"),
        (with("/exchange_capacity", q(5.0, "%")), "/exchange_capacity"),
        (with("/colour", json!("green")), "/colour"),
        (
            json!({"product": {"kind": "inoculant", "years_since_soybean": 200}}),
            "/product/years_since_soybean",
        ),
        (json!({"product": {"kind": "by_label"}, "product_rate": q(1.0, "L/har")}), "/rate"),
        (json!({}), "/product"),
    ];
    for (liquid, pointer) in bad {
        let wanted = stead.recommendation_body(&json!({"in_furrow": liquid}));
        let answer = app.lead.post("/v1/recommendations", &wanted).await;
        let at = format!("/goals/in_furrow{pointer}");
        answer.assert_problem(422, "invalid_request").assert_member(&at);
    }
}
