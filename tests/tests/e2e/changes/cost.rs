//! What a page costs at a million changes. Run it alone:
//!
//! `cargo test -p tests --test e2e a_page_of_a_million -- --ignored --nocapture`

use std::time::{Duration, Instant};

use tests::TestApp;

use super::plans::fill;

const CHANGES: i64 = 1_000_000;
const ROUNDS: u32 = 40;

#[tokio::test]
#[ignore = "measures"]
async fn a_page_of_a_million_takes_less_than_20_ms() {
    let app = TestApp::start().await;
    let started = Instant::now();
    fill(&app, CHANGES).await;
    println!("{CHANGES} changes in {:?}", started.elapsed());
    let users = [("practice", &app.lead), ("grower", &app.grower)];
    for (who, user) in users {
        for (what, query) in [
            ("all types", "limit=200"),
            ("a rare type", "limit=200&types=dig_check.recorded"),
            ("a type that never is", "limit=200&types=trial.closed"),
        ] {
            let mut slowest = Duration::ZERO;
            let mut sum = Duration::ZERO;
            for round in 0..ROUNDS {
                let position = CHANGES / i64::from(ROUNDS) * i64::from(round);
                let after = api::v1::changes::seal(app.practice_id, position);
                let asked = Instant::now();
                user.get(&format!("/v1/changes?{query}&after={after}")).await.assert_status(200);
                let took = asked.elapsed();
                slowest = slowest.max(took);
                sum += took;
            }
            println!("{who}, {what}: mean {:?}, slowest {slowest:?}", sum / ROUNDS);
            assert!(sum / ROUNDS < Duration::from_millis(20), "{who}, {what}");
        }
    }
}
