//! What digs taught about a planter and a field: shown, kept, the same in every process, made again.

mod kept;
mod measured;
mod rebuilt;
mod shown;

use std::sync::Arc;

use api::app::{App, Config, Running};
use api::auth::Scope;
use api::clock::FixedClock;
use api::entities::practices;
use api::learned::LearnedCache;
use domain::learning::Learned;
use domain::provenance::Coefficients;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
use serde_json::{Value, json};
use tests::{Farmstead, NOON, TestApp, User};
use uuid::Uuid;

const K: Coefficients = Coefficients::STANDARD;

fn path(stead: &Farmstead) -> String {
    format!("/v1/planters/{}/resistance", stead.planter)
}

async fn issued(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await
}

/// Another grower of the practice, with a planter and a sheet.
async fn neighbour(app: &TestApp) -> Farmstead {
    let grower = app.lead.create("/v1/growers", &json!({"name": "Next door"})).await;
    Farmstead::of_grower(&app.lead, &grower).await.with_sheet(&app.lead).await
}

/// A dig at this minute past noon: shallow seed, free gauge wheels.
fn dig_at(minute: u32) -> Value {
    let mut body = Farmstead::dig_body();
    body["dug_at"] = json!(format!("2027-04-20T12:{minute:02}:00Z"));
    body
}

async fn dig(user: &User, stead: &Farmstead, body: &Value) -> Value {
    let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    user.post(&path, body).await.assert_status(201).json()
}

async fn known(user: &User, stead: &Farmstead) -> Value {
    user.get(&path(stead)).await.assert_status(200).json()
}

/// Low, middle and high of a factor.
fn range(it: &Value) -> (f64, f64, f64) {
    let number = |name: &str| it[name].as_f64().unwrap_or_else(|| panic!("no {name}: {it}"));
    (number("low"), number("middle"), number("high"))
}

fn width(it: &Value) -> f64 {
    let (low, _, high) = range(it);
    (high / low).ln()
}

async fn practice(app: &TestApp) -> Uuid {
    let ours = practices::Entity::find().filter(practices::Column::Name.eq("Prairie Advisors"));
    ours.one(&app.state().db).await.expect("a query").expect("our practice").id
}

/// A second process of the service on the same database.
async fn second(app: &TestApp) -> Running {
    let clock = Arc::new(FixedClock::new(NOON.parse().expect("time")));
    let config = Config::with_clock(app.state().settings.clone(), clock);
    App::build(config).await.expect("a second process")
}

fn base(running: &Running) -> String {
    format!("http://{}", running.address)
}

/// What this process holds.
async fn held(app: &TestApp, season: u16) -> Arc<Learned> {
    let scope = Scope::of_practice(practice(app).await);
    let state = app.state();
    state.lessons.of(&state.db, scope, &K, season).await.expect("learned")
}

/// What a process that knows nothing yet learns from the database.
async fn afresh(app: &TestApp, season: u16) -> Arc<Learned> {
    let scope = Scope::of_practice(practice(app).await);
    LearnedCache::default().of(&app.state().db, scope, &K, season).await.expect("learned")
}
