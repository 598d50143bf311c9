//! Runs of several practices side by side.

use std::time::Duration;

use actix_web::HttpResponse;
use actix_web::web::Bytes;
use futures_util::stream;
use serde_json::{Value, json};
use tests::{TestApp, User};

use super::land::{Land, link_to, system_of};
use super::stand_in::StandIn;

async fn ask(user: &User, link: &str) -> String {
    let path = format!("/v1/records-links/{link}/runs");
    let run = user.post(&path, &json!({"mode": "apply"})).await.assert_status(202);
    format!("{path}/{}", run.id())
}

async fn status(user: &User, run: &str) -> Value {
    user.get(run).await.assert_status(200).json()["run"]["status"].clone()
}

/// Waits for a status of a run.
async fn until(user: &User, run: &str, wanted: &str) {
    let waits = async {
        while status(user, run).await != wanted {
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    };
    let came = tokio::time::timeout(Duration::from_secs(20), waits).await;
    assert!(came.is_ok(), "not {wanted}: {}", status(user, run).await);
}

#[tokio::test]
async fn a_practice_with_many_slow_systems_holds_up_no_other() {
    let app = TestApp::start_with(|settings| settings.job_seconds = 1).await;
    // The answer begins, and never ends.
    let slow = StandIn::start(|_| {
        HttpResponse::Ok().streaming(stream::pending::<Result<Bytes, actix_web::Error>>())
    })
    .await;
    let (quick, _land) = system_of(Land::with(3)).await;
    let mut slow_runs = Vec::new();
    for n in 0..3 {
        let mut link = link_to(&slow);
        (link["name"], link["system"]) = (json!(format!("Slow {n}")), json!(format!("slow-{n}")));
        let link = app.lead.create("/v1/records-links", &link).await;
        slow_runs.push(ask(&app.lead, &link).await);
    }
    until(&app.lead, &slow_runs[0], "running").await;
    let link = app.stranger.create("/v1/records-links", &link_to(&quick)).await;
    for _ in 0..2 {
        let run = ask(&app.stranger, &link).await;
        until(&app.stranger, &run, "done").await;
    }
    assert_eq!(status(&app.lead, &slow_runs[0]).await, "running");
    for waiting in &slow_runs[1..] {
        assert_eq!(status(&app.lead, waiting).await, "waiting", "one of a practice at a time");
    }
    // A run under way is dropped at the end, and nobody waits for it.
    let began = std::time::Instant::now();
    app.stop().await;
    assert!(began.elapsed() < Duration::from_secs(10), "{:?}", began.elapsed());
    slow.stop().await;
    quick.stop().await;
}
