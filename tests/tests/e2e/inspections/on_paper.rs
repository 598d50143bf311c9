//! The checklist on paper.

use serde_json::json;
use tests::TestApp;

use super::{inches, inspect, on, path, planter};

#[tokio::test]
async fn the_page_has_every_item_limits_boxes_and_cautions() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let found = on("2027-03-12", json!([{"item": "seed_tube", "rows": [3], "status": "replace"}]));
    inspect(&app.grower, &stead, &found).await;
    let manual = json!({"parts": [{"item": "coulter_diameter", "replace_at": inches(16.0)}]});
    app.grower.put(&path(&stead, "wear-limits"), "*", &manual).await.assert_status(200);
    let answer = app.grower.get(&path(&stead, "inspection-page")).await.assert_status(200);
    assert!(answer.header("content-type").starts_with("text/html"));
    assert!(answer.header("content-security-policy").contains("default-src 'none'"));
    let page = &answer.text;
    let items = format!("/v1/inspection-items?planter_id={}", stead.planter);
    let items = app.grower.get(&items).await.json();
    for item in items["items"].as_array().expect("items") {
        let name = item["name"].as_str().expect("a name").replace('\'', "&#39;");
        assert!(
            page.contains(&name) || page.contains(item["name"].as_str().expect("a name")),
            "{name}"
        );
    }
    for words in [
        "14.5 in or less",
        "16 in or less",
        "2 in or more",
        "Seed tube and guard, row 3 (2027-03-12)",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert!(page.contains("wheels blocked") && page.contains("Springs store energy"));
    assert!(!page.contains("<script"), "nothing runs, nothing is fetched");
    let metric =
        app.grower.get(&format!("{}?units=si", path(&stead, "inspection-page"))).await.text;
    assert!(metric.contains("368.3 mm or less") && !metric.contains("14.5 in or less"));
}

#[tokio::test]
async fn wide_planters_get_a_line_for_the_numbers_of_rows() {
    let app = TestApp::start().await;
    let mut body = tests::Farmstead::planter_body(&app.own_grower_id);
    body["name"] = json!("The wide one");
    body["makeup"]["rows"] = json!(24);
    let wide = app.lead.create("/v1/planters", &body).await;
    let page = app
        .grower
        .get(&format!("/v1/planters/{wide}/inspection-page"))
        .await
        .assert_status(200)
        .text;
    assert!(page.contains("Rows that are not good") && !page.contains("<th class=\"row\">24</th>"));
}
