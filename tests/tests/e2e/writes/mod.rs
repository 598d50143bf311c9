//! What is written is written once, whole, and leaves its trace.

mod append_only;
mod audit;
mod audit_of_follow_up;
mod audit_of_imports;
mod audit_of_notices;
mod audit_of_people;
mod audit_of_records;
mod audit_of_records_links;
mod audit_of_season;
mod cost;
mod decisions;
mod document;
mod expiry;
mod held;
mod in_flight;
mod keys;
mod law;
mod malformed;
mod patch;
mod processes;
mod secrets;

use api::entities::audit_events::{Column, Entity, Model};
use sea_orm::{EntityTrait, QueryOrder};
use serde_json::Value;
use tests::{Answer, TestApp, User};

/// `POST` with a key.
async fn post(user: &User, path: &str, key: &str, body: &Value) -> Answer {
    user.send("POST", path, &[("idempotency-key", key)], Some(body)).await
}

/// Whether an answer was given before.
fn replayed(answer: &Answer) -> bool {
    answer.header("idempotency-replayed") == "true"
}

/// The audit trail of all practices, oldest first.
async fn events(app: &TestApp) -> Vec<Model> {
    Entity::find().order_by_asc(Column::Id).all(&app.state().db).await.expect("audit events")
}

/// How many growers of this name the practice of `user` has.
async fn growers_named(user: &User, name: &str) -> usize {
    let page = user.get("/v1/growers?limit=200").await.assert_status(200).json();
    let items = page["items"].as_array().expect("items").clone();
    items.iter().filter(|it| it["name"] == name).count()
}
