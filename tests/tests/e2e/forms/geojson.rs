//! Fields as GeoJSON.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::quantity;

/// Twice the area in square degrees, positive against the clock.
fn twice_the_area(ring: &Value) -> f64 {
    let corners: Vec<(f64, f64)> = ring
        .as_array()
        .expect("a ring")
        .iter()
        .map(|it| (it[0].as_f64().expect("longitude"), it[1].as_f64().expect("latitude")))
        .collect();
    assert_eq!(corners.first(), corners.last(), "a ring ends where it began");
    corners.windows(2).map(|it| it[0].0 * it[1].1 - it[1].0 * it[0].1).sum()
}

#[tokio::test]
async fn a_field_is_a_feature_wound_as_the_standard_asks() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let with = json!([
        [-93.62, 42.03],
        [-93.62, 42.04],
        [-93.61, 42.04],
        [-93.61, 42.03],
        [-93.62, 42.03]
    ]);
    let against = json!([
        [-93.618, 42.032],
        [-93.614, 42.032],
        [-93.614, 42.036],
        [-93.618, 42.036],
        [-93.618, 42.032]
    ]);
    let boundary = json!({"type": "Polygon", "coordinates": [with, against]});
    let field = format!("/v1/fields/{}", stead.field);
    app.advisor.patch(&field, "*", &json!({"boundary": boundary})).await.assert_status(200);
    let answer = app.advisor.get(&format!("{field}/geojson")).await.assert_status(200);
    assert_eq!(answer.header("content-type"), "application/geo+json");
    let feature = answer.json();
    assert_eq!((&feature["type"], &feature["id"]), (&json!("Feature"), &json!(stead.field)));
    let rings = &feature["geometry"]["coordinates"];
    assert!(twice_the_area(&rings[0]) > 0.0 && twice_the_area(&rings[1]) < 0.0, "{rings}");
    let properties = &feature["properties"];
    assert_eq!(properties["name"], "North forty");
    assert_eq!(properties["farm"], "Home farm");
    assert_eq!(properties["grower_id"], stead.grower);
    assert_eq!(properties["area"], quantity(40.0, "[acr_us]"));
    assert_eq!(properties["external_ids"], json!([]));
    // What was entered stays as it was entered.
    assert_eq!(app.advisor.get(&field).await.json()["boundary"], boundary);

    app.advisor.patch(&field, "*", &json!({"boundary": null})).await.assert_status(200);
    let bare = app.advisor.get(&format!("{field}/geojson")).await.json();
    assert!(bare.as_object().expect("members").contains_key("geometry"), "null, not left out");
    assert_eq!(bare["geometry"], Value::Null);
}

#[tokio::test]
async fn fields_are_one_collection_of_what_the_caller_sees() {
    let app = TestApp::start().await;
    let own = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let other = app.advisor.create("/v1/growers", &json!({"name": "Another"})).await;
    let other = Farmstead::of_grower(&app.advisor, &other).await;
    // More than a page: fields are read 200 at a time.
    for number in 0..205 {
        let body = json!({"farm_id": other.farm, "name": format!("Field {number}")});
        app.advisor.create("/v1/fields", &body).await;
    }
    let ids = |collection: &Value| -> Vec<String> {
        assert_eq!(collection["type"], "FeatureCollection");
        let features = collection["features"].as_array().expect("features");
        features.iter().map(|it| it["id"].as_str().expect("an id").to_owned()).collect()
    };
    let all = app.advisor.get("/v1/field-features").await.assert_status(200);
    assert_eq!(all.header("content-type"), "application/geo+json");
    assert_eq!(ids(&all.json()).len(), 207);
    assert_eq!(
        ids(&app.grower.get("/v1/field-features").await.json()),
        std::slice::from_ref(&own.field)
    );
    for (query, count) in [
        (format!("grower_id={}", own.grower), 1),
        (format!("farm_id={}", other.farm), 206),
        (format!("farm_id={}&grower_id={}", other.farm, own.grower), 0),
    ] {
        let found = app.records_system.get(&format!("/v1/field-features?{query}")).await;
        assert_eq!(ids(&found.assert_status(200).json()).len(), count, "{query}");
    }
    assert!(ids(&app.stranger.get("/v1/field-features").await.json()).is_empty());
    let of_other = format!("/v1/field-features?grower_id={}", other.grower);
    assert!(ids(&app.grower.get(&of_other).await.json()).is_empty());
    app.nobody.get("/v1/field-features").await.assert_problem(401, "unauthenticated");
}
