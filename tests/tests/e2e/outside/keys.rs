//! Keys that come, go, and are not to be had.

use std::time::{Duration, Instant};

use chrono::TimeDelta;
use serde_json::json;

use super::stand_in::Mood;
use super::{Outside, Signer, StandIn};

#[tokio::test]
async fn a_new_key_is_found_and_an_old_one_forgotten() {
    let (old, new) = (Signer::new("old", 1), Signer::new("new", 2));
    let issuer = StandIn::start(&old).await;
    let outside = Outside::start(&issuer).await;
    outside.ask(&outside.token(&issuer, &old)).await.assert_status(200);
    issuer.publish(&[&new, &old]);
    let early = outside.ask(&outside.token(&issuer, &new)).await;
    early.assert_problem(401, "unauthenticated"); // asked less than a minute ago
    outside.app.clock.advance(TimeDelta::seconds(60));
    outside.ask(&outside.token(&issuer, &new)).await.assert_status(200);
    outside.ask(&outside.token(&issuer, &old)).await.assert_status(200);
    assert_eq!(issuer.asked(), 2);
    issuer.publish(&[&new]);
    outside.ask(&outside.token(&issuer, &old)).await.assert_status(200);
    outside.app.clock.advance(TimeDelta::seconds(600)); // its max-age
    outside.ask(&outside.token(&issuer, &old)).await.assert_problem(401, "unauthenticated");
    outside.ask(&outside.token(&issuer, &new)).await.assert_status(200);
    assert_eq!(issuer.asked(), 3);
    outside.stop().await;
}

#[tokio::test]
async fn made_up_keys_make_us_ask_once_a_minute_at_most() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    for seconds in 0..120 {
        let made_up = Signer::new(&format!("made up {seconds}"), 9);
        outside.ask(&outside.token(&issuer, &made_up)).await.assert_problem(401, "unauthenticated");
        outside.app.clock.advance(TimeDelta::seconds(1));
    }
    assert_eq!(issuer.asked(), 2);
    outside.stop().await;
}

#[tokio::test]
async fn many_at_once_ask_once() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let token = outside.token(&issuer, &signer);
    let ask = || outside.ask(&token);
    let (a, b, c, d) = tokio::join!(ask(), ask(), ask(), ask());
    assert_eq!([a.status, b.status, c.status, d.status], [200; 4]);
    assert_eq!(issuer.asked(), 1);
    outside.stop().await;
}

#[tokio::test]
async fn while_the_issuer_is_down_known_keys_are_used_for_some_hours() {
    let (known, other) = (Signer::new("a", 1), Signer::new("b", 2));
    let issuer = StandIn::start(&known).await;
    let outside = Outside::start(&issuer).await;
    outside.ask(&outside.token(&issuer, &known)).await.assert_status(200);
    issuer.mood(Mood::Status(500));
    outside.app.clock.advance(TimeDelta::seconds(601));
    outside.ask(&outside.token(&issuer, &known)).await.assert_status(200);
    // A key that we can't ask for may be a good one.
    let unknown = outside.ask(&outside.token(&issuer, &other)).await;
    let unknown = unknown.assert_problem(503, "unavailable");
    assert_eq!(unknown.header("retry-after"), "60");
    outside.app.clock.advance(TimeDelta::hours(5));
    outside.ask(&outside.token(&issuer, &known)).await.assert_status(200);
    outside.app.clock.advance(TimeDelta::hours(1));
    let answer = outside.ask(&outside.token(&issuer, &known)).await;
    assert_eq!(answer.assert_problem(503, "unavailable").header("retry-after"), "10");
    issuer.mood(Mood::Good);
    outside.app.clock.advance(TimeDelta::seconds(10));
    outside.ask(&outside.token(&issuer, &known)).await.assert_status(200);
    outside.stop().await;
}

#[tokio::test]
async fn an_issuer_that_answers_nonsense_has_no_keys() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let base = issuer.name();
    for mood in [
        Mood::Status(404),
        Mood::Status(204),
        Mood::Redirects,
        Mood::Huge,
        Mood::CallsItself("https://another.example".to_owned()),
        Mood::CallsItself(format!("{base}/")),
        Mood::KeysAt("file:///etc/hostname".to_owned()),
        Mood::KeysAt("http://keys.example/set".to_owned()),
        Mood::KeysAt("no address".to_owned()),
        Mood::KeysAt(format!("{base}/nothing")),
        Mood::Keys(""),
        Mood::Keys("<html>"),
        Mood::Keys("[]"),
        Mood::Keys("{\"keys\": 7}"),
    ] {
        issuer.mood(mood.clone());
        let answer = outside.ask(&outside.token(&issuer, &signer)).await;
        assert_eq!(answer.status, 503, "{mood:?}: {}", answer.text);
        let answer = answer.assert_problem(503, "unavailable");
        assert!(answer.has_header("retry-after"), "{mood:?}");
        outside.app.clock.advance(TimeDelta::seconds(10));
    }
    issuer.mood(Mood::Good);
    outside.ask(&outside.token(&issuer, &signer)).await.assert_status(200);
    outside.stop().await;
}

#[tokio::test]
async fn a_failing_issuer_is_left_in_peace_for_a_moment() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    issuer.mood(Mood::Status(500));
    for _ in 0..10 {
        let answer = outside.ask(&outside.token(&issuer, &signer)).await;
        assert_eq!(answer.assert_problem(503, "unavailable").header("retry-after"), "10");
    }
    assert_eq!(issuer.asked(), 1);
    outside.stop().await;
}

#[tokio::test]
async fn a_slow_issuer_is_not_waited_for_longer_than_five_seconds() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    issuer.mood(Mood::Slow(Duration::from_secs(30)));
    let begun = Instant::now();
    outside.ask(&outside.token(&issuer, &signer)).await.assert_problem(503, "unavailable");
    assert!(begun.elapsed() < Duration::from_secs(15), "{:?}", begun.elapsed());
    // Others are answered meanwhile and afterwards.
    outside.app.advisor.at(&outside.base).get("/v1/growers").await.assert_status(200);
    outside.stop().await;
}

#[tokio::test]
async fn an_issuer_that_is_not_there_at_all_is_503() {
    let signer = Signer::new("a", 1);
    let (issuer, closed) = (StandIn::start(&signer).await, "http://127.0.0.1:9");
    let outside = Outside::with(&[&issuer], json!({"issuer": closed})).await;
    let token = outside.token_with(&issuer, &signer, json!({"iss": closed}));
    outside.ask(&token).await.assert_problem(503, "unavailable");
    outside.stop().await;
}

#[tokio::test]
async fn keys_that_are_not_for_signatures_check_nothing() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    for (member, value) in [
        ("use", json!("enc")),
        ("alg", json!("RS256")),
        ("alg", json!("HS256")),
        ("key_ops", json!(["sign"])),
        ("kid", json!("other")),
    ] {
        let mut key = signer.jwk();
        key[member] = value.clone();
        issuer.publish_raw(vec![key]);
        let answer = outside.ask(&outside.token(&issuer, &signer)).await;
        assert_eq!(answer.status, 401, "{member} {value}: {}", answer.text);
        outside.app.clock.advance(TimeDelta::seconds(60));
    }
    issuer.publish(&[&signer]);
    outside.ask(&outside.token(&issuer, &signer)).await.assert_status(200);
    outside.stop().await;
}
