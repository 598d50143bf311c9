//! Coefficients, units and bounds.

use domain::provenance::{Coefficients, Mark};
use domain::quantity::{UNITS, bounds, unit};
use serde_json::{Value, json};
use tests::TestApp;

fn items(list: &Value) -> &Vec<Value> {
    list["items"].as_array().expect("items")
}

#[tokio::test]
async fn every_coefficient_is_shown_with_range_mark_and_source() {
    let app = TestApp::start().await;
    let list = app.read_only.get("/v1/coefficients").await.assert_status(200).json();
    let table = Coefficients::STANDARD.all();
    assert_eq!(items(&list).len(), table.len());
    for (shown, k) in items(&list).iter().zip(table) {
        assert_eq!(shown["name"], k.name);
        assert_eq!(
            (shown["low"].as_f64(), shown["value"].as_f64(), shown["high"].as_f64()),
            (Some(k.low), Some(k.value), Some(k.high)),
            "{shown}"
        );
        assert_eq!(shown["unit"], k.unit);
        assert_eq!(shown["mark_words"], k.mark.words());
        assert_eq!(shown["source"], *k.source);
        assert_eq!(shown["corrected_by_digs"], k.corrected_by_digs);
    }
    // One row as it must read, so that table and answer can't be wrong together.
    let unit_weight = json!({
        "name": "unit_weight", "symbol": "W_u", "what": "Weight of a bare row unit",
        "value": 778.0, "low": 667.0, "high": 890.0, "unit": "N",
        "mark": "read", "mark_words": "read in the source",
        "source": "Iowa State University Extension, as reported in the farm press, about 2023. Why planter downforce is so important",
        "corrected_by_digs": false, "within": {"least": 667.0 / 3.0, "most": 2670.0}, "version": 0
    });
    assert!(items(&list).contains(&unit_weight), "{list}");
    assert_eq!(list["set_aside"], json!([]));
}

#[tokio::test]
async fn coefficients_can_be_asked_for_by_mark() {
    let app = TestApp::start().await;
    let all = app.grower.get("/v1/coefficients").await.assert_status(200).json();
    let mut seen = 0;
    for mark in Mark::ALL {
        let code = serde_json::to_value(mark).expect("a word");
        let code = code.as_str().expect("text");
        let path = format!("/v1/coefficients?mark={code}");
        let some = app.grower.get(&path).await.assert_status(200).json();
        assert!(items(&some).iter().all(|k| k["mark"] == code), "{some}");
        assert_eq!(
            some["counts_by_mark"], all["counts_by_mark"],
            "the counts are of the whole set"
        );
        let count = all["counts_by_mark"].as_array().expect("counts").iter();
        let count = count.filter(|it| it["mark"] == code).map(|it| it["count"].as_u64());
        let expected = Some(items(&some).len() as u64).filter(|n| *n > 0);
        assert_eq!(count.collect::<Vec<_>>(), expected.map(Some).into_iter().collect::<Vec<_>>());
        seen += items(&some).len();
    }
    assert_eq!(seen, items(&all).len());
    let assumed = app.grower.get("/v1/coefficients?mark=assumption").await.json();
    assert!(items(&assumed).iter().any(|k| k["name"] == "opener_resistance"), "{assumed}");
    let answer = app.grower.get("/v1/coefficients?mark=guess").await;
    answer.assert_problem(422, "invalid_request").assert_member("?mark");
    let answer = app.grower.get("/v1/coefficients?marks=read").await;
    answer.assert_problem(422, "invalid_request").assert_member("?marks");
}

#[tokio::test]
async fn every_unit_is_listed() {
    let app = TestApp::start().await;
    let list = app.grower.get("/v1/units").await.assert_status(200).json();
    let codes: Vec<&str> =
        items(&list).iter().map(|unit| unit["code"].as_str().expect("code")).collect();
    assert_eq!(codes, UNITS.iter().map(|unit| unit.code).collect::<Vec<_>>());
    let inch = json!({"code": "[in_i]", "label": "in", "kind": "length", "kind_words": "a length"});
    assert!(items(&list).contains(&inch), "{list}");
}

#[tokio::test]
async fn every_bound_is_listed_in_both_systems() {
    let app = TestApp::start().await;
    let list = app.grower.get("/v1/bounds").await.assert_status(200).json();
    let table = bounds::table();
    assert_eq!(items(&list).len(), table.len());
    for (shown, row) in items(&list).iter().zip(table) {
        assert_eq!(shown["name"], row.name);
        assert_eq!(shown["us"]["least"].as_f64(), Some(row.least), "{shown}");
        assert_eq!(shown["us"]["most"].as_f64(), Some(row.most), "{shown}");
        assert_eq!(shown["us"]["unit"], row.us);
        assert_eq!(shown["si"]["unit"], row.si);
        assert_eq!(shown["why"], row.why);
        assert!(unit(row.si).is_some_and(|unit| unit.kind == row.kind), "{shown}");
    }
    let width = items(&list).iter().find(|row| row["name"] == "row_width").expect("row width");
    // 5 in and 60 in at 2.54 cm.
    assert_eq!(width["si"], json!({"least": 12.7, "most": 152.4, "unit": "cm"}));
}

#[tokio::test]
async fn the_numbers_in_force_need_a_caller() {
    let app = TestApp::start().await;
    for path in ["/v1/coefficients", "/v1/units", "/v1/bounds"] {
        app.nobody.get(path).await.assert_problem(401, "unauthenticated");
        app.stranger.get(path).await.assert_status(200);
    }
}
