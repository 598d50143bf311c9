//! How long 100,000 lessons take, from the database into a warm cache. Run it alone:
//!
//! `cargo test --release -p tests --test e2e measured -- --ignored --nocapture`

use std::time::{Duration, Instant};

use api::auth::Scope;
use api::db;
use api::entities::{dig_lessons, lesson_counters};
use api::learned::LearnedCache;
use sea_orm::{ActiveModelTrait, ConnectionTrait, EntityTrait, IntoActiveModel};
use tests::TestApp;
use uuid::Uuid;

use super::{K, dig, dig_at, issued, practice};

const DIGS: u32 = 100_000;

/// Memory of this process, in MB.
fn memory() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").expect("Linux");
    let line = status.lines().find(|line| line.starts_with("VmRSS")).expect("VmRSS");
    let kilobytes = line.split_whitespace().nth(1).expect("a number");
    kilobytes.parse::<f64>().expect("a number") / 1024.0
}

/// Copies of one lesson: 250 planters, 100 fields each, four digs a field, pushes that differ.
async fn fill(app: &TestApp, practice_id: Uuid) {
    let db = &app.state().db;
    // The copies belong to no dig check, planter or field that is there.
    db.execute_unprepared("PRAGMA foreign_keys = OFF").await.expect("SQLite");
    let one = dig_lessons::Entity::find().one(db).await.expect("a query").expect("a lesson");
    let event = one.event.clone().expect("an event");
    let pushes = event["balance"]["pushes"].as_f64().expect("a number");
    let tx = db::begin(db).await.expect("begin");
    for chunk in (1..DIGS).collect::<Vec<_>>().chunks(500) {
        let rows = chunk.iter().map(|n| {
            let mut event = event.clone();
            event["balance"]["pushes"] = (pushes + f64::from(n % 97) * 5.0).into();
            dig_lessons::Model {
                id: Uuid::from_u128(u128::from(*n)),
                seq: i64::from(*n) + 1,
                planter_id: Uuid::from_u128(u128::from(n / 400)),
                field_id: Uuid::from_u128(u128::from(n / 4)),
                event: Some(event),
                ..one.clone()
            }
            .into_active_model()
        });
        dig_lessons::Entity::insert_many(rows).exec_without_returning(&tx).await.expect("rows");
    }
    let counter = lesson_counters::Model { practice_id, seq: i64::from(DIGS), generation: 0 };
    let counter = counter.into_active_model().reset_all();
    lesson_counters::Entity::update(counter).exec(&tx).await.expect("a counter");
    tx.commit().await.expect("commit");
    db.execute_unprepared("PRAGMA foreign_keys = ON").await.expect("SQLite");
}

#[tokio::test]
#[ignore = "measures; minutes without --release"]
async fn a_hundred_thousand_lessons() {
    let app = TestApp::start_with(|settings| settings.database_connections = 1).await;
    let stead = issued(&app).await;
    dig(&app.lead, &stead, &dig_at(1)).await;
    let practice_id = practice(&app).await;
    fill(&app, practice_id).await;
    let (state, scope) = (app.state(), Scope::of_practice(practice_id));
    let cache = LearnedCache::default();
    let ask = |season| {
        let cache = &cache;
        async move {
            let start = Instant::now();
            let learned = cache.of(&state.db, scope, &K, season).await.expect("learned");
            (start.elapsed(), learned)
        }
    };
    let before = memory();
    let (cold, learned) = ask(2027).await;
    let millis = |time: Duration| time.as_secs_f64() * 1e3;
    println!("{DIGS} lessons, cold: {:.1} s; {:.0} MB", cold.as_secs_f64(), memory() - before);
    assert!(cfg!(debug_assertions) || cold < Duration::from_secs(60), "{cold:?}");
    drop(learned);
    println!("again: {:.2} ms", millis(ask(2027).await.0));
    for minute in 2..6 {
        dig(&app.lead, &stead, &dig_at(minute)).await;
        println!("one more: {:.2} ms", millis(ask(2027).await.0));
    }
    println!("another year: {:.0} ms", millis(ask(2028).await.0));
    let start = Instant::now();
    app.lead.get(&super::path(&stead)).await.assert_status(200);
    println!("the answer: {:.1} ms", millis(start.elapsed()));
}
