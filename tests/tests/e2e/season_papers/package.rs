//! The data package: what is in it, that it holds together, and that a grower gets his own.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{season, table, unzipped};

const PATH: &str = "/v1/seasons/2027/data-package";

#[tokio::test]
async fn every_file_has_the_columns_that_are_described_and_refers_to_what_is_there() {
    let app = TestApp::start().await;
    let all = season(&app, 3).await;
    let answer = app.lead.get(PATH).await.assert_status(200);
    assert_eq!(answer.header("content-type"), "application/zip");
    assert_eq!(answer.header("content-disposition"), "attachment; filename=\"season-2027.zip\"");
    let files = unzipped(&answer.bytes);
    let package: Value = serde_json::from_str(&files["datapackage.json"]).expect("JSON");
    let resources = package["resources"].as_array().expect("resources");
    assert_eq!(resources.len(), 10);
    for resource in resources {
        let path = resource["path"].as_str().expect("a path");
        let head = files[path].split("\r\n").next().expect("a head").to_owned();
        let fields = resource["schema"]["fields"].as_array().expect("fields");
        let names: Vec<&str> =
            fields.iter().map(|it| it["name"].as_str().expect("a name")).collect();
        assert_eq!(head, names.join(","), "{path}");
        for key in resource["schema"]["foreignKeys"].as_array().into_iter().flatten() {
            let column = key["fields"][0].as_str().expect("a column");
            let other = key["reference"]["resource"].as_str().expect("a table").replace('-', "_");
            let of = key["reference"]["fields"][0].as_str().expect("a column");
            let there: BTreeSet<String> =
                table(&files[&format!("{other}.csv")]).iter().map(|row| row[of].clone()).collect();
            for row in table(&files[path]) {
                assert!(row[column].is_empty() || there.contains(&row[column]), "{path}: {row:?}");
            }
        }
    }
    let digs = table(&files["digs.csv"]);
    assert_eq!(digs.len(), 3);
    let [first, ..] = all.as_slice() else { panic!("three") };
    let dig = digs.iter().find(|row| row["dig_id"] == first.dig_check).expect("the dig");
    assert_eq!(
        (dig["sheet_id"].as_str(), dig["field_id"].as_str()),
        (first.recommendation.as_str(), first.field.as_str())
    );
    assert_eq!(dig["dug_at"], "2027-04-20T11:45:00.000Z");
    let sheets = table(&files["sheets.csv"]);
    let sheet =
        sheets.iter().find(|row| row["sheet_id"] == first.recommendation).expect("the sheet");
    assert_eq!(sheet["crop"], "corn");
    // What the sheet says, in the units of the package.
    let told = app
        .lead
        .get(&format!("/v1/recommendations/{}?units=si", first.recommendation))
        .await
        .json();
    let force = told["settings"]["down_force"]["per_row"]["value"].as_f64().expect("a force");
    assert_eq!(sheet["down_force_n"].parse::<f64>().expect("a number"), force);
    let planter = &table(&files["planters.csv"])[0];
    assert_eq!((planter["rows"].as_str(), planter["row_spacing_cm"].as_str()), ("8", "76.2"));
    assert_eq!(planter["down_force"], "air_bag");
}

#[tokio::test]
async fn text_is_no_formula_and_a_comma_or_a_quote_breaks_nothing() {
    let app = TestApp::start().await;
    let names = ["=HYPERLINK(\"x\")", "+1, -1", "@here", "Smith, \"Bud\""];
    for name in names {
        app.lead.create("/v1/growers", &json!({"name": name})).await;
    }
    let files = unzipped(&app.lead.get(PATH).await.assert_status(200).bytes);
    let written: BTreeSet<String> = table(&files["growers.csv"])
        .into_iter()
        .map(|mut row| row.remove("name").expect("a name"))
        .collect();
    for name in ["'=HYPERLINK(\"x\")", "'+1, -1", "'@here", "Smith, \"Bud\""] {
        assert!(written.contains(name), "{name} in {written:?}");
    }
}

#[tokio::test]
async fn a_grower_gets_his_own_rows_only_and_a_planter_its_own_digs() {
    let app = TestApp::start().await;
    season(&app, 2).await;
    let own = Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await;
    let own = own.with_dig(&app.lead).await;
    let files = unzipped(&app.grower.get(PATH).await.assert_status(200).bytes);
    assert!(files.values().all(|text| !text.contains("Marchbanks")), "a neighbour is named");
    assert_eq!(table(&files["growers.csv"]).len(), 1);
    let digs = table(&files["digs.csv"]);
    assert_eq!(
        digs.iter().map(|row| row["dig_id"].as_str()).collect::<Vec<_>>(),
        [own.dig_check.as_str()]
    );
    let of_planter =
        app.lead.get(&format!("{PATH}?planter_id={}", own.planter)).await.assert_status(200);
    let files = unzipped(&of_planter.bytes);
    assert_eq!(table(&files["digs.csv"]).len(), 1);
    assert_eq!(table(&files["sheets.csv"]).len(), 1);
    assert_eq!(table(&files["adjustments.csv"]).len(), 1);
}

#[tokio::test]
async fn another_season_holds_nothing_of_this_one() {
    let app = TestApp::start().await;
    season(&app, 1).await;
    let files =
        unzipped(&app.lead.get("/v1/seasons/2026/data-package").await.assert_status(200).bytes);
    for name in ["digs.csv", "sheets.csv", "adjustments.csv", "plantings.csv"] {
        assert!(table(&files[name]).is_empty(), "{name}");
    }
}
