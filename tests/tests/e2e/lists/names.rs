//! Looking for the beginning of a name.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{growers, page};

async fn found(app: &TestApp, name: &str) -> Vec<String> {
    let page = page(&app.lead, &format!("/v1/growers?name={name}")).await;
    let items = page["items"].as_array().expect("items");
    items.iter().map(|item| item["name"].as_str().expect("a name").to_owned()).collect()
}

#[tokio::test]
async fn a_name_is_found_by_its_beginning_in_capitals_or_not() {
    let app = TestApp::start().await;
    growers(&app, &["Mill Creek", "O_Neil", "OxNeil", "50% Farms", "50 Farms", "École", "a\\b"])
        .await;
    assert_eq!(found(&app, "mil").await, ["Miller Brothers", "Mill Creek"]);
    assert_eq!(found(&app, "MILLER").await, ["Miller Brothers"]);
    assert_eq!(found(&app, "creek").await, Vec::<String>::new(), "the beginning only");
    assert_eq!(found(&app, "o_").await, ["O_Neil"], "no wildcard");
    assert_eq!(found(&app, "50%25").await, ["50% Farms"], "no wildcard");
    assert_eq!(found(&app, "a%5C").await, ["a\\b"]);
    assert_eq!(found(&app, "%C3%89c").await, ["École"]);
    let none: Vec<String> = Vec::new();
    assert_eq!(
        found(&app, "%C3%A9c").await,
        none,
        "other letters stay as they are, on both engines"
    );
}

#[tokio::test]
async fn a_beginning_that_is_none_is_refused() {
    let app = TestApp::start().await;
    let long = "x".repeat(121);
    for name in ["", "%20", "%00", &long] {
        let answer = app.lead.get(&format!("/v1/growers?name={name}")).await;
        answer.assert_problem(422, "invalid_request").assert_member("?name");
    }
}

#[tokio::test]
async fn farms_fields_and_planters_are_found_too() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    app.lead.create("/v1/farms", &json!({"grower_id": stead.grower, "name": "River farm"})).await;
    for (path, name, id) in [
        ("/v1/farms", "home", &stead.farm),
        ("/v1/fields", "north", &stead.field),
        ("/v1/planters", "the%20eight", &stead.planter),
    ] {
        let found = page(&app.lead, &format!("{path}?name={name}")).await;
        assert_eq!(super::ids(&found), [id.as_str()], "{path}");
        let other = page(&app.lead, &format!("{path}?name=zzz")).await;
        assert!(super::ids(&other).is_empty(), "{path}");
    }
}
