//! Order, pages, filters.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{advisor, lead, list};

fn place(entry: &Value) -> (usize, String) {
    let urgencies = ["now", "soon", "when_you_can"];
    let rank = urgencies.iter().position(|it| entry["urgency"] == *it).expect("an urgency");
    (rank, entry["due_on"].as_str().expect("a day").to_owned())
}

#[tokio::test]
async fn the_most_urgent_come_first_and_pages_miss_nothing() {
    let app = TestApp::start().await;
    for name in ["One", "Two", "Three"] {
        let stead = Farmstead::make(&lead(&app), name).await;
        stead.issue(&lead(&app)).await;
    }
    let failing = Farmstead::make(&lead(&app), "Four").await;
    failing.issue(&lead(&app)).await;
    let failing = failing.with_dig(&lead(&app)).await;
    app.clock.set("2027-04-23T12:00:00Z".parse().expect("a time"));
    let whole = lead(&app).get("/v1/attention?limit=200").await.assert_status(200).json();
    let items = whole["items"].as_array().expect("items").clone();
    assert!(items.len() > 8, "{} entries", items.len());
    let places: Vec<_> = items.iter().map(place).collect();
    assert!(places.is_sorted(), "{places:?}");
    let counts = &whole["counts"];
    let sum: u64 =
        ["now", "soon", "when_you_can"].iter().filter_map(|it| counts[it].as_u64()).sum();
    assert_eq!(sum, items.len() as u64);

    let (mut walked, mut path) = (Vec::new(), "/v1/attention?limit=3".to_owned());
    loop {
        let page = lead(&app).get(&path).await.assert_status(200);
        let body = page.json();
        assert_eq!(&body["counts"], counts, "of the whole list");
        walked.extend(body["items"].as_array().expect("items").iter().cloned());
        let Some(cursor) = body["next_cursor"].as_str() else { break };
        assert!(page.header("link").contains(cursor));
        path = format!("/v1/attention?limit=3&cursor={cursor}");
    }
    assert_eq!(walked, items);
    lead(&app).get(&format!("{path}&kind=dig_failed")).await.assert_problem(422, "invalid_request");
    lead(&app).get("/v1/attention?limit=0").await.assert_problem(422, "invalid_request");
    lead(&app).get("/v1/attention?kind=nonsense").await.assert_problem(422, "invalid_request");

    let of_one = list(&lead(&app), &format!("grower_id={}", failing.grower)).await;
    assert!(of_one.len() > 1 && of_one.len() < items.len());
    assert!(of_one.iter().all(|entry| entry["grower"]["id"] == failing.grower));
    assert!(list(&lead(&app), &format!("advisor_id={}", app.advisor.account_id)).await.is_empty());
    let mine = json!({"advisor_id": app.advisor.account_id});
    lead(&app)
        .patch(&format!("/v1/growers/{}", failing.grower), "*", &mine)
        .await
        .assert_status(200);
    let advised = list(&lead(&app), &format!("advisor_id={}", app.advisor.account_id)).await;
    assert_eq!(advised.len(), of_one.len());
    assert_eq!(list(&advisor(&app), "mine=true").await.len(), of_one.len());
}
