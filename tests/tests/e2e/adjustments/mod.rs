//! Adjustments: from the dig to the next revision.

mod apply;
mod decide;
mod lists;

use api::entities::recommendations;
use sea_orm::{EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp, User};

/// A dug sheet of the grower: the adjustment waits.
async fn dug(app: &TestApp) -> Farmstead {
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    stead.with_sheet(&app.lead).await.with_dig(&app.grower).await
}

fn path(id: &str) -> String {
    format!("/v1/adjustments/{id}")
}

async fn decide(user: &User, id: &str, step: &str, etag: &str, body: Option<Value>) -> Answer {
    let path = format!("{}/{step}", path(id));
    user.send("POST", &path, &[("if-match", etag)], body.as_ref()).await
}

async fn sheet(app: &TestApp, id: &Value) -> Value {
    let path = format!("/v1/recommendations/{}", id.as_str().expect("an id"));
    app.lead.get(&path).await.assert_status(200).json()
}

async fn sheets_stored(app: &TestApp) -> u64 {
    recommendations::Entity::find().count(&app.state().db).await.expect("a count")
}

/// Rows with these readings each, on five rows.
fn signs(stead_row: &Value) -> Value {
    let row = |number: u16| {
        let mut row = stead_row.clone();
        row["row"] = json!(number);
        row
    };
    json!({"dug_at": "2027-04-20T11:45:00Z", "rows": [row(2), row(3), row(5), row(6), row(7)]})
}

async fn dig_with(app: &TestApp, stead: &Farmstead, row: &Value) -> Value {
    let digs = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    app.grower.post(&digs, &signs(row)).await.assert_status(201).json()
}
