//! Guessing is slow, by address and by network.

use serde_json::json;
use tests::{Answer, TestApp, User};
use tokio::task::JoinSet;

async fn guess(nobody: &User, email: &str, from: &str) -> Answer {
    let body = json!({"email": email, "password": "not the right one"});
    nobody.send("POST", "/v1/sessions", &[("x-forwarded-for", from)], Some(&body)).await
}

#[tokio::test]
async fn a_network_waits_after_many_wrong_ones_whomever_it_tries() {
    let app = TestApp::start_with(|settings| settings.network_tries = 8).await;
    super::sign_in(&app, "lead").await;
    for n in 0..8 {
        let answer = guess(&app.nobody, &format!("nobody{n}@example.org"), "").await;
        answer.assert_problem(401, "wrong_credentials");
    }
    let right = json!({"email": "lead@example.org", "password": "a long enough one"});
    let waits = app.nobody.post("/v1/sessions", &right).await;
    assert_eq!(waits.assert_problem(429, "too_many_requests").header("retry-after"), "900");
    let link = json!({"token": "x", "new_password": "a long enough one"});
    let waits = app.nobody.post("/v1/password-links/redeem", &link).await;
    waits.assert_problem(429, "too_many_requests");
    app.clock.advance(chrono::TimeDelta::minutes(15));
    app.nobody.post("/v1/sessions", &right).await.assert_status(201);
}

#[tokio::test]
async fn who_asks_through_a_proxy_is_believed_only_of_the_named_one() {
    let tries = 6;
    let direct = TestApp::start_with(|settings| settings.network_tries = tries).await;
    let behind = TestApp::start_with(|settings| {
        settings.network_tries = tries;
        settings.trusted_proxies = vec!["127.0.0.1".parse().expect("an address")];
    })
    .await;
    let mut last = Vec::new();
    for app in [&direct, &behind] {
        let mut statuses = Vec::new();
        for n in 0..=tries {
            let email = format!("nobody{n}@example.org");
            statuses.push(guess(&app.nobody, &email, &format!("192.0.2.{n}")).await.status);
        }
        last.push(statuses.last().copied());
    }
    assert_eq!(last, [Some(429), Some(401)]);
}

#[tokio::test]
async fn many_guesses_at_once_are_no_way_round() {
    let app = TestApp::start_with(|settings| settings.workers = 4).await;
    let mut under_way = JoinSet::new();
    for _ in 0..20 {
        let nobody = app.nobody.clone();
        under_way.spawn(async move { guess(&nobody, "lead@example.org", "").await.status });
    }
    let statuses = under_way.join_all().await;
    assert_eq!(statuses.iter().filter(|status| **status == 401).count(), 5, "{statuses:?}");
    assert_eq!(statuses.iter().filter(|status| **status == 429).count(), 15, "{statuses:?}");
}
