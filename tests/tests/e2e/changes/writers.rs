//! What it costs that every write of a practice takes its place in one row of changes. Run it alone, with
//! `DIBBLE_TEST_ENGINE=postgres` (`tests/gate/postgres.sh`) for the other engine:
//!
//! `cargo test -p tests --test e2e writers_of_one_practice -- --ignored --nocapture`

use std::time::{Duration, Instant};

use serde_json::json;
use tests::TestApp;
use tokio::task::JoinSet;

const WRITES: usize = 480;

#[tokio::test(flavor = "multi_thread")]
#[ignore = "measures"]
async fn writers_of_one_practice_do_not_slow_each_other_down() {
    let app = TestApp::start().await;
    let mut alone = f64::MAX;
    for writers in [1, 4, 16] {
        let mut running = JoinSet::new();
        let started = Instant::now();
        for nth in 0..writers {
            let user = app.lead.clone();
            running.spawn(async move {
                let mut slowest = Duration::ZERO;
                for round in 0..WRITES / writers {
                    let asked = Instant::now();
                    let name = format!("{writers} writers, {nth}, round {round}");
                    user.create("/v1/growers", &json!({"name": name})).await;
                    slowest = slowest.max(asked.elapsed());
                }
                slowest
            });
        }
        let slowest = running.join_all().await.into_iter().max().expect("writers");
        let took = started.elapsed();
        let in_a_second = 480.0 / took.as_secs_f64();
        println!("{writers} writers: {in_a_second:.0} writes a second, slowest {slowest:?}");
        if writers == 1 {
            alone = took.as_secs_f64();
        }
        assert!(took.as_secs_f64() < 1.5 * alone, "{writers} writers at once are slower than one");
    }
}
