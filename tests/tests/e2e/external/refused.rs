//! Bad input: each said plainly, nothing taken.

use serde_json::{Value, json};
use tests::TestApp;

use super::{batch, feature, g1, many, put, square, upstream};

async fn refused(app: &TestApp, geometry: &Value, properties: &Value, pointer: &str) -> String {
    let answer = put(app, "fields/F-1", &feature(geometry, properties)).await;
    let entry = answer.assert_problem(422, "invalid_request").assert_member(pointer);
    entry["detail"].as_str().expect("words").to_owned()
}

#[tokio::test]
async fn an_area_in_the_wrong_unit_is_named_with_the_unit_that_fits() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let area = |value: f64, unit: &str| json!({"farm": "A-1", "name": "North", "area": {"value": value, "unit": unit}});
    for (value, unit, fits) in [
        (39.506, "har", "39.506 [acr_us]"),
        (15.988, "[acr_us]", "15.988 har"),
        (159_875.0, "[acr_us]", "159875 m2"),
        (159_875.0, "har", "159875 m2"),
    ] {
        let detail = refused(&app, &g1(), &area(value, unit), "/properties/area").await;
        assert!(detail.contains(fits), "{detail}");
    }
    refused(&app, &json!(null), &area(0.0, "har"), "/properties/area").await;
    put(&app, "fields/F-1", &feature(&g1(), &area(39.506, "[acr_us]"))).await.assert_status(201);
    // Later alone, against the boundary that is here.
    let detail = refused(&app, &json!(null), &area(39.506, "har"), "/properties/area").await;
    assert!(detail.contains("39.506 [acr_us]"), "{detail}");
}

#[tokio::test]
async fn swapped_coordinates_are_named_and_never_put_right() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let said = json!({"farm": "A-1", "name": "North"});
    let detail = refused(&app, &square(42.0, -93.6), &said, "/geometry").await;
    assert!(detail.contains("swapped"), "{detail}");
    // South of the equator both numbers may be latitudes: other fields of the practice tell.
    let there = feature(&square(-47.0, -15.0), &json!({"farm": "A-1", "name": "First"}));
    put(&app, "fields/F-0", &there).await.assert_status(201);
    let detail = refused(&app, &square(-15.2, -47.2), &said, "/geometry").await;
    assert!(detail.contains("swapped"), "{detail}");
    put(&app, "fields/F-1", &feature(&square(-47.2, -15.2), &said)).await.assert_status(201);
}

#[tokio::test]
async fn a_boundary_that_encloses_no_land_is_refused() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let said = json!({"farm": "A-1", "name": "North"});
    let polygon = |rings: Value| json!({"type": "Polygon", "coordinates": rings});
    let bow_tie = polygon(json!([[[0, 0], [0.01, 0.01], [0.01, 0], [0, 0.01], [0, 0]]]));
    let detail = refused(&app, &bow_tie, &said, "/geometry/coordinates").await;
    assert!(detail.contains("self-intersection"), "{detail}");
    let hole = square(-93.0, 42.0)["coordinates"][0].clone();
    let outer = square(-93.6, 42.0)["coordinates"][0].clone();
    let detail =
        refused(&app, &polygon(json!([outer, hole])), &said, "/geometry/coordinates").await;
    assert!(detail.contains("interior ring"), "{detail}");
    let metres = polygon(json!([[
        [448_262, 4_649_776],
        [448_662, 4_649_776],
        [448_662, 4_650_176],
        [448_262, 4_649_776]
    ]]));
    let detail = refused(&app, &metres, &said, "/geometry").await;
    assert!(detail.contains("no degrees"), "{detail}");
    assert_eq!(many(&app, "fields").await, 0);
}

#[tokio::test]
async fn what_lacks_its_parent_or_name_is_refused() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let nowhere = refused(&app, &g1(), &json!({"name": "North"}), "/properties/farm").await;
    assert!(nowhere.contains("farm"), "{nowhere}");
    let unknown = json!({"farm": "A-7", "name": "North"});
    let unknown = refused(&app, &g1(), &unknown, "/properties/farm").await;
    assert!(unknown.contains("\"A-7\""), "{unknown}");
    let nobody = json!({"farm_id": "01964f1e-6a00-7000-8000-000000000003", "name": "North"});
    refused(&app, &g1(), &nobody, "/properties/farm_id").await;
    let both =
        json!({"farm": "A-1", "farm_id": "01964f1e-6a00-7000-8000-000000000003", "name": "N"});
    refused(&app, &g1(), &both, "/properties/farm_id").await;
    refused(&app, &g1(), &json!({"farm": "A-1"}), "/properties/name").await;
    let several = json!({"name": " ", "area": {"value": 1, "unit": "[in_i]"}, "farm": "A-1"});
    let answer = put(&app, "fields/F-1", &feature(&g1(), &several)).await;
    let answer = answer.assert_problem(422, "invalid_request");
    answer.assert_member("/properties/name");
    answer.assert_member("/properties/area");
}

#[tokio::test]
async fn land_is_not_moved_to_another_farm() {
    let app = TestApp::start().await;
    upstream(&app).await;
    put(&app, "farms/A-2", &json!({"grower": "G-1", "name": "River"})).await.assert_status(201);
    let on = |farm: &str| feature(&g1(), &json!({"farm": farm, "name": "North"}));
    put(&app, "fields/F-1", &on("A-1")).await.assert_status(201);
    let moved = put(&app, "fields/F-1", &on("A-2")).await;
    let bad = moved.assert_problem(422, "invalid_request").assert_member("/properties/farm");
    assert!(bad["detail"].as_str().expect("words").contains("another farm"), "{bad}");
    put(&app, "fields/F-1", &on("A-1")).await.assert_status(200);
}

#[tokio::test]
async fn a_name_that_is_taken_is_refused() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let named =
        |name: &str, west: f64| feature(&square(west, 42.0), &json!({"farm": "A-1", "name": name}));
    put(&app, "fields/F-1", &named("North", -93.6)).await.assert_status(201);
    let same = put(&app, "fields/F-2", &named("North", -93.3)).await;
    same.assert_problem(422, "invalid_request").assert_member("/properties/name");
    put(&app, "fields/F-2", &named("South", -93.3)).await.assert_status(201);
    let renamed = put(&app, "fields/F-2", &named("North", -93.3)).await;
    renamed.assert_problem(422, "invalid_request").assert_member("/properties/name");
}

#[tokio::test]
async fn what_belongs_to_no_id_and_what_waits_are_checked_too() {
    let app = TestApp::start().await;
    upstream(&app).await;
    for parent in ["", "a\u{0}b", &"x".repeat(201)] {
        let farm = json!({"grower": parent, "name": "Any"});
        let answer = put(&app, "farms/A-2", &farm).await;
        answer.assert_problem(422, "invalid_request").assert_member("/grower");
    }
    // A batch names an id that is none by its place only.
    let many_letters = "x".repeat(5000);
    let body =
        json!({"growers": [{"id": many_letters, "name": "Any"}, {"id": "a\u{0}b", "name": "B"}]});
    let done = batch(&app, &body).await;
    assert_eq!(done["counts"]["refused"], 2, "{done}");
    assert!(
        done["records"][0].get("their_id").is_none() && !done.to_string().contains(&many_letters)
    );

    // What would wait for its parent is kept, so it is checked before.
    put(&app, "growers/G-2", &json!({"name": "miller brothers"}))
        .await
        .assert_problem(409, "decision_needed");
    for name in ["", "a\u{0}b"] {
        let farm = json!({"grower": "G-2", "name": name});
        let answer = put(&app, "farms/A-2", &farm).await;
        answer.assert_problem(422, "invalid_request").assert_member("/name");
    }
}

#[tokio::test]
async fn one_id_that_comes_again_and_again_is_told_in_short() {
    let app = TestApp::start().await;
    let growers: Vec<Value> =
        (0..500).map(|number| json!({"id": "G-1", "name": format!("Grower {number}")})).collect();
    let done = batch(&app, &json!({"growers": growers})).await;
    assert_eq!(done["counts"]["refused"], 500);
    let detail = done["records"][499]["refused"][0]["detail"].as_str().expect("words");
    assert!(detail.ends_with("/growers/4; and 495 more."), "{detail}");
}
