//! Fields: boundaries, areas, units.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

/// The area of the field of [`Farmstead::field_body`], in m²: a quadrangle of a hundredth of a
/// degree on the ellipsoid of WGS 84, by Snyder (1987), U.S. Geological Survey Professional Paper
/// 1395, equation 3-12.
fn quadrangle() -> f64 {
    let (a, flattening) = (6_378_137.0_f64, 1.0 / 298.257_223_563);
    let e2: f64 = flattening * (2.0 - flattening);
    let e = e2.sqrt();
    let q = |latitude: f64| {
        let s = latitude.to_radians().sin();
        (1.0 - e2) * (s / (1.0 - e2 * s * s) - ((1.0 - e * s) / (1.0 + e * s)).ln() / (2.0 * e))
    };
    a * a * 0.01_f64.to_radians() * (q(42.04) - q(42.03)) / 2.0
}

/// Square metres of a US survey acre: 43 560 square survey feet of 1200/3937 m.
const ACRE_M2: f64 = 43_560.0 * (1200.0 / 3937.0) * (1200.0 / 3937.0);

#[tokio::test]
async fn entered_values_stay_and_computed_ones_follow_the_units() {
    let app = TestApp::start().await;
    let farm = json!({"grower_id": app.own_grower_id, "name": "Home farm"});
    let farm = app.lead.create("/v1/farms", &farm).await;
    let given = Farmstead::field_body(&farm);
    let made = app.lead.post("/v1/fields", &given).await.assert_status(201);
    let body = made.json();
    assert_eq!(body["boundary"], given["boundary"]);
    assert_eq!(body["entered_area"], json!({"value": 40.0, "unit": "[acr_us]"}));
    assert_eq!((&body["area"], &body["area_from"]), (&body["entered_area"], &json!("entered")));
    let close = |quantity: &Value, unit: &str, wanted: f64| {
        assert_eq!(quantity["unit"], unit);
        let value = quantity["value"].as_f64().expect("value");
        assert!((value / wanted - 1.0).abs() < 1e-5, "{value} against {wanted} {unit}");
    };
    close(&body["boundary_area"], "[acr_us]", quadrangle() / ACRE_M2);
    let path = format!("/v1/fields/{}", made.id());
    let metric = app.lead.get(&format!("{path}?units=si")).await.assert_status(200);
    close(&metric.json()["boundary_area"], "har", quadrangle() / 10_000.0);
    assert_eq!(metric.json()["entered_area"], body["entered_area"]);
    assert_eq!((made.header("etag"), metric.header("etag")), ("\"1.us\"", "\"1.si\""));

    let si = json!({"units": "si"});
    app.lead.send("PATCH", "/v1/accounts/me", &[], Some(&si)).await.assert_status(200);
    assert_eq!(app.lead.get(&path).await.json(), metric.json());
    let without = app.lead.patch(&path, "\"1.us\"", &json!({"entered_area": null})).await;
    let without = without.assert_status(200).json();
    assert_eq!(without["area_from"], "boundary");
    close(&without["area"], "har", quadrangle() / 10_000.0);
}

#[tokio::test]
async fn a_field_may_have_neither_boundary_nor_area() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let body = json!({"farm_id": stead.farm, "name": "The new one"});
    let made = app.lead.post("/v1/fields", &body).await.assert_status(201).json();
    for member in ["boundary", "boundary_area", "entered_area", "area", "area_from"] {
        assert_eq!(made.get(member), None, "{member}");
    }
}

#[tokio::test]
async fn a_boundary_that_encloses_no_field_is_refused_with_its_place() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let polygon = |rings: Value| json!({"type": "Polygon", "coordinates": rings});
    for (boundary, pointer) in [
        (polygon(json!([[[0, 0], [0.01, 0], [0, 0]]])), "/boundary/coordinates/0"),
        (polygon(json!([[[0, 0], [0.01, 0], [0.01, 0.01], [0, 0.01]]])), "/boundary/coordinates/0"),
        (
            polygon(json!([[[0, 0], [0.01, 0.01], [0.01, 0], [0, 0.01], [0, 0]]])),
            "/boundary/coordinates",
        ),
        (
            polygon(json!([[[42, -93], [42, -93.01], [42.01, -93.01], [42, -93]]])),
            "/boundary/coordinates/0/0/1",
        ),
        (polygon(json!([[["x", 0]]])), "/boundary/coordinates/0/0/0"),
        (json!({"type": "Point", "coordinates": [0, 0]}), "/boundary/type"),
        (json!({"type": "Polygon"}), "/boundary/coordinates"),
        (json!({"coordinates": []}), "/boundary/type"),
        (polygon(json!([vec![json!([0, 0]); 5001]])), "/boundary/coordinates"),
    ] {
        let body = json!({"farm_id": stead.farm, "name": "A", "boundary": boundary});
        let answer = app.lead.post("/v1/fields", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn an_area_needs_a_unit_of_area_and_a_sensible_size() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let send = |area: Value| {
        let body = json!({"farm_id": stead.farm, "name": "A", "entered_area": area});
        let user = app.lead.clone();
        async move { user.post("/v1/fields", &body).await }
    };
    for (area, pointer) in [
        (json!({"value": 40}), "/entered_area/unit"),
        (json!({"value": "40", "unit": "har"}), "/entered_area/value"),
        (json!(40), "/entered_area"),
        (json!([40, "har"]), "/entered_area"),
        (json!({"value": 40, "unit": "acre"}), "/entered_area"),
        (json!({"value": 40, "unit": "[in_i]"}), "/entered_area"),
    ] {
        send(area).await.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let answer = send(json!({"value": -3, "unit": "har"})).await;
    let entry = answer.assert_problem(422, "invalid_request").assert_member("/entered_area");
    assert_eq!(entry["given"], "-3 har");
    assert!(entry["allowed"].as_str().is_some_and(|range| range.ends_with(" har")), "{entry}");
    assert!(entry["why"].is_string(), "{entry}");
    let metric = send(json!({"value": 16.2, "unit": "har"})).await.assert_status(201).json();
    assert_eq!(metric["entered_area"], json!({"value": 16.2, "unit": "har"}));
}
