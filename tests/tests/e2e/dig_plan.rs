//! The plan of a dig, and the rows of a planter that run behind tyres.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn inches(value: f64) -> Value {
    json!({"value": value, "unit": "[in_i]"})
}

fn rows(plan: &Value) -> Vec<u64> {
    let rows = plan["rows"].as_array().expect("rows");
    rows.iter().map(|row| row["row"].as_u64().expect("a number")).collect()
}

async fn plan(app: &TestApp, body: Value) -> Value {
    app.read_only.post("/v1/what-if/dig-plan", &body).await.assert_status(200).json()
}

/// By the formula of the sample size, n = (t s / E)² solved with its own degrees of freedom: with
/// 0.0625 in between and 0.25 in within rows, five rows of five seeds.
#[tokio::test]
async fn the_first_dig_needs_no_more_than_the_planter() {
    let app = TestApp::start().await;
    let plan = plan(&app, json!({"rows_of_planter": 12, "tyre_rows": [5, 8]})).await;
    assert_eq!(plan["purpose"], "afresh");
    assert_eq!((rows(&plan).len(), &plan["seeds_per_row"]), (5, &json!(5)));
    assert_eq!(plan["half_width"], inches(0.16));
    let why = |row: &Value| row["why"].as_array().expect("reasons").clone();
    let found = plan["rows"].as_array().expect("rows");
    assert_eq!(why(&found[0]), [json!("left_end")]);
    assert_eq!(why(&found[found.len() - 1]), [json!("right_end")]);
    assert!(found.iter().any(|row| row["behind_tyre"] == true), "{plan}");
    let words = plan["words"].as_str().expect("words");
    assert!(words.starts_with("Dig rows 1, ") && words.contains(": five seeds each, "), "{words}");
    assert_eq!(plan["spreads"]["mark"], "assumption");
}

#[tokio::test]
async fn what_digs_showed_changes_the_plan() {
    let app = TestApp::start().await;
    let seen = |between: f64, within: f64| {
        json!({"rows": 6, "seeds": 30, "sd_between_rows": inches(between),
            "sd_within_rows": inches(within)})
    };
    let body = |seen: Value, dug: Value| json!({"rows_of_planter": 24, "tolerance": inches(0.25), "seen": seen, "dug": dug});
    let before = plan(&app, body(json!([]), json!([]))).await;
    let rough = plan(&app, body(json!([seen(0.2, 0.4), seen(0.2, 0.4)]), json!([]))).await;
    assert!(rows(&rough).len() > rows(&before).len(), "{rough}");
    assert_eq!(
        (&rough["spreads"]["digs"], &rough["spreads"]["mark"]),
        (&json!(2), &json!("learned"))
    );

    let dug: Vec<Value> =
        rows(&before).iter().map(|row| json!({"row": row, "odd": *row == 1})).collect();
    let again = plan(&app, body(json!([]), json!(dug))).await;
    let both: Vec<u64> =
        rows(&again).into_iter().filter(|row| rows(&before).contains(row)).collect();
    assert_eq!(both, [1], "other rows, and the odd one: {again}");
}

#[tokio::test]
async fn a_plan_that_cannot_be_is_refused_with_its_place() {
    let app = TestApp::start().await;
    let seen = |rows: u32, seeds: u32| {
        json!([{"rows": rows, "seeds": seeds, "sd_between_rows": inches(0.1),
            "sd_within_rows": inches(0.2)}])
    };
    for (body, pointer) in [
        (json!({"rows_of_planter": 0}), "/rows_of_planter"),
        (json!({"rows_of_planter": 65}), "/rows_of_planter"),
        (json!({"rows_of_planter": 8, "tyre_rows": [9]}), "/tyre_rows/0"),
        (json!({"rows_of_planter": 8, "tyre_rows": [3, 3]}), "/tyre_rows/1"),
        (json!({"rows_of_planter": 8, "tolerance": inches(3.0)}), "/tolerance"),
        (json!({"rows_of_planter": 8, "confidence": 1}), "/confidence"),
        (json!({"rows_of_planter": 8, "dug": [{"row": 9}]}), "/dug/0/row"),
        (json!({"rows_of_planter": 8, "dug": [{"row": 2}, {"row": 2}]}), "/dug/1/row"),
        (json!({"rows_of_planter": 8, "seen": seen(1, 5)}), "/seen/0/rows"),
        (json!({"rows_of_planter": 8, "seen": seen(5, 5)}), "/seen/0/seeds"),
        (json!({"rows_of_planter": 8, "rows_dug": []}), "/rows_dug"),
        (json!({"tyre_rows": [3]}), "/rows_of_planter"),
    ] {
        let answer = app.read_only.post("/v1/what-if/dig-plan", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn a_planter_keeps_the_rows_behind_its_tyres() {
    let app = TestApp::start().await;
    let mut body = Farmstead::planter_body(&app.own_grower_id);
    body["makeup"]["tyre_rows"] = json!([6, 3]);
    let id = app.lead.create("/v1/planters", &body).await;
    let path = format!("/v1/planters/{id}");
    let planter = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!(planter["makeup"]["tyre_rows"], json!([6, 3]), "as it was entered");

    let before = Farmstead::planter_body(&app.own_grower_id);
    assert!(before["makeup"].get("tyre_rows").is_none());
    for (given, pointer, says) in [
        (json!([0]), "/makeup/tyre_rows/0", "The planter has no such row."),
        (json!([3, 99]), "/makeup/tyre_rows/1", "The planter has no such row."),
        (json!([3, 6, 3]), "/makeup/tyre_rows/2", "This row was given before."),
    ] {
        body["name"] = json!("Another one");
        body["makeup"]["tyre_rows"] = given;
        let answer = app.lead.post("/v1/planters", &body).await;
        let entry = answer.assert_problem(422, "invalid_request").assert_member(pointer);
        assert_eq!(entry["detail"], says, "{entry}");
    }
}
