//! One sheet as a Data Package.

use serde_json::Value;
use tests::{Farmstead, TestApp};

use super::{Story, sheet, unzipped};

#[tokio::test]
async fn a_package_of_a_sheet_holds_it_and_what_refers_to_it() {
    let app = TestApp::start().await;
    let Story { stead, sheet: id, planting, dig, .. } =
        Story::of(&app.advisor, &app.own_grower_id).await;
    let another = sheet(&app.advisor, &stead).await;
    let digs = format!("/v1/recommendations/{another}/dig-checks");
    let mut body = Farmstead::dig_body();
    body["dug_at"] = "2027-04-20T11:50:00Z".into();
    let other_dig = app.advisor.create(&digs, &body).await;
    let answer = app.grower.get(&format!("/v1/recommendations/{id}/data-package")).await;
    let answer = answer.assert_status(200);
    assert_eq!(
        answer.header("content-disposition"),
        format!("attachment; filename=\"sheet-{id}.zip\"")
    );
    let files = unzipped(&answer.bytes);
    let described: Value = serde_json::from_str(&files["datapackage.json"]).expect("JSON");
    assert_eq!(described["name"], format!("sheet-{id}"));
    let tables: Vec<&str> = described["resources"]
        .as_array()
        .expect("tables")
        .iter()
        .map(|it| it["name"].as_str().expect("a name"))
        .collect();
    let wanted = ["growers", "planters", "fields", "sheets", "digs", "adjustments", "plantings"];
    assert_eq!(tables, wanted);
    for (table, there, lines) in [
        ("sheets", &id, 2),
        ("digs", &dig, 2),
        ("plantings", &planting, 2),
        ("adjustments", &dig, 2),
    ] {
        let text = &files[&format!("{table}.csv")];
        assert!(text.contains(there.as_str()), "{table}");
        assert!(!text.contains(&another) && !text.contains(&other_dig), "{table}");
        assert_eq!(text.lines().count(), lines, "{table}: {text}");
    }
    assert!(files["README.txt"].starts_with("A settings sheet of season 2027"));
}
