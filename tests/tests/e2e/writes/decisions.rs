//! Many who decide at once: one wins.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::events;

async fn race(decide: fn(usize) -> (&'static str, Value)) {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Race").await;
    stead.issue(&app.lead).await;
    let stead = stead.with_dig(&app.lead).await;
    let path = format!("/v1/adjustments/{}", stead.adjustment);
    let etag = app.lead.get(&path).await.header("etag").to_owned();
    let trail = events(&app).await.len();
    let sent: Vec<_> = (0..16)
        .map(|nth| {
            let user = if nth % 2 == 0 { app.lead.clone() } else { app.advisor.clone() };
            let ((step, body), etag) = (decide(nth), etag.clone());
            let at = format!("{path}/{step}");
            tokio::spawn(async move {
                user.send("POST", &at, &[("if-match", &etag)], Some(&body)).await
            })
        })
        .collect();
    let mut won = Vec::new();
    for answer in sent {
        let answer = answer.await.expect("an answer");
        match answer.status {
            200 => won.push(answer.json()),
            412 => drop(answer.assert_problem(412, "stale")),
            _ => drop(answer.assert_problem(409, "wrong_state")),
        }
    }
    assert_eq!(won.len(), 1, "{won:?}");
    assert_eq!(app.lead.get(&path).await.json()["status"], won[0]["status"]);
    assert_eq!(events(&app).await.len(), trail + 1);
    let list = format!("/v1/recommendations?field_id={}", stead.field);
    let revisions = app.lead.get(&list).await.json()["items"].as_array().expect("items").len();
    assert_eq!(revisions, if won[0]["status"] == "accepted" { 2 } else { 1 });
}

#[tokio::test]
async fn of_16_who_accept_one_wins() {
    race(|_| ("accept", json!({"issue": true}))).await;
}

#[tokio::test]
async fn of_16_who_accept_or_decline_one_wins() {
    race(|nth| match nth % 4 {
        0 | 1 => ("accept", json!({})),
        _ => ("decline", json!({"reason": "Rain is coming."})),
    })
    .await;
}
