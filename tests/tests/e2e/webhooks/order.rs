//! Webhooks whose notices come in order.

use std::time::Duration;

use chrono::TimeDelta;
use serde_json::json;
use tests::TestApp;

use super::{Hook, Receiver, Reply, change, pump};

#[tokio::test]
async fn what_fails_holds_back_what_follows_and_nothing_overtakes() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({"ordered": true})).await;
    let mut growers = Vec::new();
    for n in 0..12 {
        growers.push(change(&app, &format!("Grower {n}")).await);
    }
    let bad = growers[4].clone();
    receiver.answers(move |it| Reply {
        after: Duration::from_millis(5),
        ..Reply::of(if it.json()["data"]["id"] == bad.as_str() { 500 } else { 200 })
    });
    let told = || -> Vec<String> {
        let all = receiver.take();
        all.iter().map(|it| it.json()["data"]["id"].as_str().expect("an id").to_owned()).collect()
    };
    pump(&app).await;
    assert_eq!(told(), growers[..=4], "the fifth fails, the sixth waits");
    app.clock.advance(TimeDelta::seconds(4));
    pump(&app).await;
    assert!(told().is_empty());
    hook.step(&app, "test").await.assert_status(201);
    pump(&app).await;
    assert_eq!(told(), [hook.id.as_str()], "a test notice stands in no line");
    receiver.answers(|_| Reply { after: Duration::from_millis(5), ..Reply::of(200) });
    app.clock.advance(TimeDelta::seconds(2));
    pump(&app).await;
    assert_eq!(told(), growers[4..], "in order");
    assert_eq!(receiver.most_at_once(), 1, "one at a time");
    assert!(hook.deliveries(&app, "?status=waiting").await.is_empty());
}

#[tokio::test]
async fn others_come_side_by_side() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    Hook::make(&app, &receiver.url, json!({})).await;
    for n in 0..20 {
        change(&app, &format!("Grower {n}")).await;
    }
    receiver.answers(|_| Reply { after: Duration::from_millis(100), ..Reply::of(200) });
    pump(&app).await;
    assert_eq!(receiver.count(), 20);
    assert!(receiver.most_at_once() > 4, "{}", receiver.most_at_once());
}
