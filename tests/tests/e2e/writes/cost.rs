//! What a write costs, with a key and without. Run it alone:
//!
//! `cargo test --release -p tests --test e2e a_key_costs -- --ignored --nocapture`

use std::time::Instant;

use serde_json::json;
use tests::TestApp;

use super::{events, post, replayed};

const ROUNDS: u32 = 400;

#[tokio::test]
#[ignore = "measures"]
async fn a_key_costs_little() {
    let app = TestApp::start().await;
    let trail = events(&app).await.len();
    let bare = Instant::now();
    for nth in 0..ROUNDS {
        app.lead.create("/v1/growers", &json!({"name": format!("bare {nth}")})).await;
    }
    let (bare, keyed) = (bare.elapsed() / ROUNDS, Instant::now());
    for nth in 0..ROUNDS {
        let body = json!({"name": format!("keyed {nth}")});
        post(&app.lead, "/v1/growers", &format!("k{nth}"), &body).await.assert_status(201);
    }
    let (keyed, again) = (keyed.elapsed() / ROUNDS, Instant::now());
    for nth in 0..ROUNDS {
        let body = json!({"name": format!("keyed {nth}")});
        let answer = post(&app.lead, "/v1/growers", &format!("k{nth}"), &body).await;
        assert!(replayed(&answer));
    }
    let again = again.elapsed() / ROUNDS;
    println!("a create: {bare:?} without a key, {keyed:?} with one, {again:?} answered again");
    let made = usize::try_from(2 * ROUNDS).expect("few");
    assert_eq!(events(&app).await.len(), trail + made, "what is answered again is not done again");
}
