//! Notices sent again.

use serde_json::json;
use tests::TestApp;

use super::{Hook, Receiver, change, pump};

#[tokio::test]
async fn one_is_sent_again_under_its_id() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    change(&app, "One").await;
    change(&app, "Two").await;
    pump(&app).await;
    let first = receiver.take();
    let delivery = hook.deliveries(&app, "").await.remove(0);
    let id = delivery["id"].as_str().expect("an id");
    let step = format!("deliveries/{id}/replay");
    let answer = hook.step(&app, &step).await.assert_status(200).json();
    assert_eq!((&answer["status"], &answer["attempts"]), (&json!("waiting"), &json!(0)));
    pump(&app).await;
    let again = receiver.take();
    assert_eq!(again.len(), 1);
    assert_eq!(again[0].id, delivery["message_id"].as_str().expect("an id"));
    assert!(first.iter().any(|it| it.id == again[0].id && it.body == again[0].body));
}

#[tokio::test]
async fn all_after_a_position_is_told_again_what_was_swept_out_too() {
    use api::entities::deliveries::{Column, Entity};
    use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};

    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({"ordered": true})).await;
    for n in 0..6 {
        change(&app, &format!("Grower {n}")).await;
    }
    pump(&app).await;
    let first: Vec<String> = receiver.take().into_iter().map(|it| it.id).collect();
    assert_eq!(first.len(), 6);
    let deliveries = hook.deliveries(&app, "").await;
    let position = |nth: usize| deliveries[nth]["position"].as_i64().expect("a position");
    let swept = Entity::delete_many().filter(Column::Position.eq(position(3)));
    assert_eq!(swept.exec(&app.state().db).await.expect("deleted").rows_affected, 1);

    let path = format!("{}/replay", hook.path());
    let after = position(1);
    let replay = app.lead.post(&path, &json!({"after": after})).await.assert_status(200).json();
    assert_eq!(replay, json!({"again": 3, "read_to": after}));
    pump(&app).await;
    let again: Vec<String> = receiver.take().into_iter().map(|it| it.id).collect();
    assert_eq!(again, first[2..], "the same messages, in order");
    pump(&app).await;
    assert_eq!(receiver.count(), 0);
    for after in [-1, position(5) + 1] {
        app.lead
            .post(&path, &json!({"after": after}))
            .await
            .assert_problem(422, "invalid_request")
            .assert_member("/after");
    }
}

#[tokio::test]
async fn what_is_paused_waits_and_nothing_is_left_out() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    change(&app, "One").await;
    assert_eq!(hook.step(&app, "pause").await.assert_status(200).json()["status"], "paused");
    change(&app, "Two").await;
    pump(&app).await;
    assert_eq!(receiver.count(), 0);
    hook.step(&app, "pause").await.assert_problem(409, "wrong_state");
    hook.step(&app, "resume").await.assert_status(200);
    hook.step(&app, "resume").await.assert_problem(409, "wrong_state");
    pump(&app).await;
    assert_eq!(receiver.take().len(), 2);
}
