//! The dispatcher of a running service: several receivers, several processes.

use std::collections::HashMap;
use std::time::{Duration, Instant};

use api::app::{App, Config};
use api::entities::webhooks::{Column, Entity};
use api::notices::LEASE;
use chrono::TimeDelta;
use sea_orm::EntityTrait;
use sea_orm::sea_query::Expr;
use serde_json::json;
use tests::TestApp;
use uuid::Uuid;

use super::{Hook, Receiver, Reply, change, pump};

async fn running() -> TestApp {
    TestApp::start_with(|settings| settings.job_seconds = 1).await
}

#[tokio::test]
async fn a_commit_is_told_at_once_by_a_running_service() {
    let app = running().await;
    let receiver = Receiver::start().await;
    Hook::make(&app, &receiver.url, json!({})).await;
    for n in 0..5 {
        change(&app, &format!("Grower {n}")).await;
    }
    assert!(receiver.wait_for(5, Duration::from_secs(10)).await, "{}", receiver.count());
    app.stop().await;
}

#[tokio::test]
async fn a_receiver_that_hangs_costs_the_others_nothing() {
    let app = running().await;
    let (slow, down, healthy) =
        (Receiver::start().await, Receiver::start().await, Receiver::start().await);
    slow.answers(|_| Reply { after: Duration::from_secs(60), ..Reply::of(200) });
    down.stop().await;
    for url in [&slow.url, &down.url, &healthy.url] {
        Hook::make(&app, url, json!({})).await;
    }
    change(&app, "First").await;
    assert!(slow.wait_for(1, Duration::from_secs(10)).await, "it hangs now");
    let began = Instant::now();
    for n in 0..10 {
        change(&app, &format!("Grower {n}")).await;
    }
    assert!(healthy.wait_for(11, Duration::from_secs(10)).await, "{}", healthy.count());
    assert!(began.elapsed() < Duration::from_secs(10), "{:?}", began.elapsed());
    assert_eq!(slow.count(), 1, "it hangs still");
}

#[tokio::test]
async fn two_processes_tell_each_change_once() {
    let app = running().await;
    let receiver = Receiver::start().await;
    Hook::make(&app, &receiver.url, json!({})).await;
    let settings = app.state().settings.clone();
    let second = App::build(Config::with_clock(settings, app.clock.clone())).await.expect("starts");
    let there = app.lead.at(&format!("http://{}", second.address));
    for n in 0..60 {
        let user = if n % 2 == 0 { &app.lead } else { &there };
        user.create("/v1/growers", &json!({"name": format!("Grower {n}")})).await;
    }
    assert!(receiver.wait_for(60, Duration::from_secs(30)).await, "{}", receiver.count());
    tokio::time::sleep(Duration::from_millis(1500)).await;
    let mut times: HashMap<String, usize> = HashMap::new();
    for notice in receiver.take() {
        *times.entry(notice.id).or_default() += 1;
    }
    assert_eq!(times.len(), 60);
    assert!(times.values().all(|count| *count == 1), "{times:?}");
    second.stop().await.expect("a good end");
}

#[tokio::test]
async fn what_a_process_left_behind_is_taken_up_when_its_lease_ends() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    Hook::make(&app, &receiver.url, json!({})).await;
    change(&app, "One").await;
    let now = app.state().clock.now();
    Entity::update_many()
        .col_expr(Column::Lease, Expr::value(Uuid::from_u128(1)))
        .col_expr(Column::LeasedUntil, Expr::value(now + LEASE))
        .exec(&app.state().db)
        .await
        .expect("leased");
    app.clock.advance(LEASE - TimeDelta::seconds(1));
    pump(&app).await;
    assert_eq!(receiver.count(), 0, "somebody is at it");
    app.clock.advance(TimeDelta::seconds(1));
    pump(&app).await;
    assert_eq!(receiver.count(), 1);
}
