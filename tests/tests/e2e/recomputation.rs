//! A stored recommendation, worked out anew.

use api::entities::{coefficient_sets, recommendations};
use domain::settings::ENGINE;
use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};
use uuid::Uuid;

async fn stead(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await
}

async fn recomputed(app: &TestApp, id: &str) -> Value {
    let path = format!("/v1/recommendations/{id}/recomputation");
    app.lead.get(&path).await.assert_status(200).json()
}

fn uuid(text: &str) -> Uuid {
    Uuid::parse_str(text).expect("an id")
}

async fn change_row(app: &TestApp, id: &str, values: &[(recommendations::Column, Value)]) {
    let rows =
        recommendations::Entity::update_many().filter(recommendations::Column::Id.eq(uuid(id)));
    let rows = values.iter().fold(rows, |rows, (column, value)| {
        let value = match value {
            Value::Null => Expr::value(Option::<Uuid>::None),
            Value::String(text) => Expr::value(text.clone()),
            json => Expr::value(json.clone()),
        };
        rows.col_expr(*column, value)
    });
    let done = rows.exec(&app.state().db).await.expect("stored");
    assert_eq!(done.rows_affected, 1);
}

#[tokio::test]
async fn the_same_engine_gives_the_same_bit_for_bit() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let expected = json!({
        "recommendation_id": stead.recommendation,
        "engine_stored": ENGINE, "engine_now": ENGINE, "figures": "stored",
        "coefficient_set_id": stead.coefficient_set, "set_intact": true,
        "same": true, "difference_count": 0, "differences": []
    });
    assert_eq!(recomputed(&app, &stead.recommendation).await, expected);
    let path = format!("/v1/recommendations/{}/recomputation", stead.recommendation);
    app.grower.get(&path).await.assert_status(200);
    app.stranger.get(&path).await.assert_problem(404, "not_found");
}

#[tokio::test]
async fn it_stays_the_same_when_the_practice_changes_its_figures_and_its_planter() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let own =
        json!({"value": 613.7, "low": 451.3, "high": 901.1, "unit": "N", "source": "load cell"});
    app.lead.put("/v1/coefficients/opener_resistance", "*", &own).await.assert_status(200);
    let name = json!({"name": "Another"});
    let planter = format!("/v1/planters/{}", stead.planter);
    app.lead.patch(&planter, "*", &name).await.assert_status(200);
    assert_eq!(recomputed(&app, &stead.recommendation).await["same"], true);
    // A sheet made with the own figure is the same with it, after it was given up again.
    let revise = format!("/v1/recommendations/{}/revise", stead.recommendation);
    let goals = json!({"goals": {
        "speed": {"value": 6.3, "unit": "[mi_i]/h"}, "depth": {"value": 47, "unit": "mm"},
        "seeding": {"kind": "stand"}
    }});
    let second = app.lead.post(&revise, &goals).await.assert_status(201).id();
    app.lead.delete("/v1/coefficients/opener_resistance").await.assert_status(204);
    let again = recomputed(&app, &second).await;
    assert_eq!((&again["same"], &again["set_intact"]), (&json!(true), &json!(true)), "{again}");
}

#[tokio::test]
async fn a_changed_set_is_noticed() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = uuid(&stead.coefficient_set);
    let db = &app.state().db;
    let rows = || coefficient_sets::Entity::find().filter(coefficient_sets::Column::Id.eq(id));
    let mut figures = rows().one(db).await.expect("query").expect("the set").figures;
    let figure = figures.as_array_mut().expect("figures").iter_mut();
    let figure =
        figure.into_iter().find(|it| it["name"] == "opener_resistance").expect("the figure");
    figure["value"] = json!(500.000_000_1);
    coefficient_sets::Entity::update_many()
        .col_expr(coefficient_sets::Column::Figures, Expr::value(figures))
        .filter(coefficient_sets::Column::Id.eq(id))
        .exec(db)
        .await
        .expect("stored");
    let found = recomputed(&app, &stead.recommendation).await;
    assert_eq!((&found["same"], &found["set_intact"]), (&json!(false), &json!(false)));
    let count = found["difference_count"].as_u64().expect("a count");
    let listed = found["differences"].as_array().expect("a list");
    assert_eq!(u64::try_from(listed.len()).expect("few"), count.min(100));
    assert!(count > 0, "{found}");
    for place in listed {
        assert!(place["pointer"].as_str().is_some_and(|at| at.starts_with('/')), "{place}");
        assert_ne!(place["stored"], place["now"]);
    }
}

#[tokio::test]
async fn a_changed_result_is_noticed_with_its_place() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let rows = recommendations::Entity::find();
    let all = rows.all(&app.state().db).await.expect("rows");
    let mut result = all.into_iter().next().expect("the row").result;
    result["depth_used"] = json!(0.051);
    change_row(&app, &stead.recommendation, &[(recommendations::Column::Result, result)]).await;
    let found = recomputed(&app, &stead.recommendation).await;
    assert_eq!((&found["same"], &found["set_intact"]), (&json!(false), &json!(true)));
    let place = json!({"pointer": "/depth_used", "stored": "0.051", "now": "0.0508"});
    assert_eq!(found["differences"], json!([place]));
}

#[tokio::test]
async fn what_an_older_engine_stored_is_worked_out_with_todays() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let rows = include_str!("../../../domain/tests/data/engine_2026_1.json");
    let rows: Vec<Value> = serde_json::from_str(rows).expect("rows");
    for old in rows {
        use recommendations::Column::{CoefficientSetId, EngineVersion, Inputs, Result};
        let values = [
            (Inputs, old["inputs"].clone()),
            (Result, old["result"].clone()),
            (EngineVersion, json!("2026.1")),
            (CoefficientSetId, Value::Null),
        ];
        change_row(&app, &stead.recommendation, &values).await;
        let found = recomputed(&app, &stead.recommendation).await;
        assert_eq!(
            (&found["engine_stored"], &found["engine_now"]),
            (&json!("2026.1"), &json!(ENGINE))
        );
        assert_eq!(found["figures"], "standard");
        assert!(found.get("coefficient_set_id").is_none() && found.get("set_intact").is_none());
        let engine =
            json!({"pointer": "/engine", "stored": "\"2026.1\"", "now": format!("\"{ENGINE}\"")});
        assert_eq!(found["same"], false);
        let sheet = format!("/v1/recommendations/{}", stead.recommendation);
        assert_eq!(app.lead.get(&sheet).await.assert_status(200).json()["engine"], "2026.1");
        let listed = found["differences"].as_array().expect("a list");
        let count = found["difference_count"].as_u64().expect("a count");
        assert!(listed.contains(&engine) || count > 100, "{found}");
        let dug = app.grower.get(&sheet).await.assert_status(200).json();
        assert_eq!(dug["id"], stead.recommendation);
    }
}
