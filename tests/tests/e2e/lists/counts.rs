//! How many rows a list has.

use api::entities::growers;
use sea_orm::{ActiveValue::Set, EntityTrait};
use serde_json::json;
use tests::TestApp;

use super::{growers, page};

#[tokio::test]
async fn rows_are_counted_when_asked_whatever_the_page() {
    let app = TestApp::start().await;
    growers(&app, &["A", "B", "Bb", "C"]).await;
    let plain = page(&app.lead, "/v1/growers?limit=2").await;
    assert!(plain.get("total").is_none());
    assert!(page(&app.lead, "/v1/growers?count=false").await.get("total").is_none());
    let total = |rows: u32| json!({"rows": rows, "exact": true});
    let first = page(&app.lead, "/v1/growers?limit=2&count=true").await;
    assert_eq!(first["total"], total(5));
    let cursor = first["next_cursor"].as_str().expect("more");
    let next = page(&app.lead, &format!("/v1/growers?limit=2&count=true&cursor={cursor}")).await;
    assert_eq!(next["total"], total(5));
    assert_eq!(page(&app.lead, "/v1/growers?name=b&count=true").await["total"], total(2));
    assert_eq!(page(&app.grower, "/v1/growers?count=true").await["total"], total(1));
    assert_eq!(page(&app.stranger, "/v1/growers?count=true").await["total"], total(0));
    let since = "/v1/growers?count=true&updated_since=2027-04-20T12:00:01Z";
    assert_eq!(page(&app.lead, since).await["total"], total(0));
    let refused = app.lead.get("/v1/growers?count=maybe").await;
    refused.assert_problem(422, "invalid_request").assert_member("?count");
}

#[tokio::test]
async fn beyond_ten_thousand_it_is_at_least() {
    let app = TestApp::start().await;
    let state = app.state();
    let model = growers::Entity::find().one(&state.db).await.expect("read").expect("a grower");
    let row = |n: u32| growers::ActiveModel {
        practice_id: Set(model.practice_id),
        id: Set(state.ids.next()),
        name: Set(format!("Grower {n}")),
        advisor_id: Set(None),
        phone: Set(None),
        email: Set(None),
        notes: Set(None),
        version: Set(1),
        created_at: Set(model.created_at),
        updated_at: Set(model.updated_at),
    };
    // With the grower of every test: just ten thousand.
    for part in (1..10_000).collect::<Vec<u32>>().chunks(1000) {
        let rows = part.iter().map(|n| row(*n));
        growers::Entity::insert_many(rows).exec(&state.db).await.expect("stored");
    }
    let total = async || page(&app.lead, "/v1/growers?limit=1&count=true").await["total"].clone();
    assert_eq!(total().await, json!({"rows": 10_000, "exact": true}));
    growers(&app, &["One more"]).await;
    assert_eq!(total().await, json!({"rows": 10_000, "exact": false}));
}
