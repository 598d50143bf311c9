//! The workbook.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{season, unzipped};

#[tokio::test]
async fn it_has_a_sheet_for_each_subject_and_no_formula() {
    let app = TestApp::start().await;
    season(&app, 2).await;
    let grower = app.lead.create("/v1/growers", &json!({"name": "=1+1"})).await;
    let odd = Farmstead::of_grower(&app.lead, &grower).await;
    let path = format!("/v1/fields/{}", odd.field);
    let name = json!({"name": "=cmd|' /c calc'!A0"});
    app.lead.send("PATCH", &path, &[("if-match", "*")], Some(&name)).await.assert_status(200);
    let answer = app.lead.get("/v1/seasons/2027/workbook?units=si").await.assert_status(200);
    assert_eq!(
        answer.header("content-type"),
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    );
    assert_eq!(answer.header("content-disposition"), "attachment; filename=\"season-2027.xlsx\"");
    let files = unzipped(&answer.bytes);
    for sheet in [
        "read me",
        "summary",
        "fields",
        "digs",
        "adjustments",
        "stands",
        "trials",
        "wear",
        "shed list",
    ] {
        assert!(files["xl/workbook.xml"].contains(&format!("name=\"{sheet}\"")), "{sheet}");
    }
    let sheets: Vec<&String> = files
        .iter()
        .filter(|(name, _)| name.starts_with("xl/worksheets/"))
        .map(|(_, text)| text)
        .collect();
    assert!(sheets.iter().all(|text| !text.contains("<f>") && !text.contains("<f ")), "a formula");
    assert!(files["xl/sharedStrings.xml"].contains("=cmd|"), "the name is text as it was given");
    assert!(sheets.iter().any(|text| text.contains("state=\"frozen\"")), "heads stay in view");
    assert!(files["xl/sharedStrings.xml"].contains("depth off (mm)"), "units in the heads");
}
