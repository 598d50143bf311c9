//! The events of webhooks and their deliveries.

use serde_json::{Value, json};
use tests::TestApp;

use super::audit::Trail;

/// Everything that is done with a webhook; none of it tells the secret.
pub(super) async fn webhooks(trail: &mut Trail<'_>, app: &TestApp) {
    let (user, none, all) = (&app.records_system, Value::Null, "/v1/webhooks");
    let body = json!({"name": "Audited", "url": "http://127.0.0.1:9/notices"});
    let (made, event) = trail.does(user, "create_webhook", all, &body).await;
    let made = made.json();
    let id = made["webhook"]["id"].as_str().expect("an id");
    assert_eq!((event.object_kind.as_str(), event.object_id.as_str()), ("webhook", id));
    assert_eq!(event.grower_id, None);
    let secret = made["secret"].as_str().expect("shown once");
    let path = format!("{all}/{id}");
    let step = |step: &str| format!("{path}/{step}");
    trail.does(user, "update_webhook", &path, &json!({"ordered": true})).await;
    let hours = json!({"overlap_hours": 1});
    let (_, event) = trail.does(user, "rotate_webhook_secret", &step("rotation"), &hours).await;
    assert!(!format!("{event:?}").contains("whsec_") && !format!("{event:?}").contains(secret));
    let (test, event) = trail.does(user, "test_webhook", &step("test"), &none).await;
    let test = test.id();
    assert_eq!((event.object_kind.as_str(), event.object_id.as_str()), ("delivery", test.as_str()));
    let replay = step(&format!("deliveries/{test}/replay"));
    let (_, event) = trail.does(user, "replay_delivery", &replay, &none).await;
    assert_eq!(event.object_id, test);
    trail.does(user, "replay_changes", &step("replay"), &json!({"after": 0})).await;
    trail.does(user, "replay_dead_deliveries", &step("replay-dead"), &none).await;
    trail.does(user, "pause_webhook", &step("pause"), &none).await;
    trail.does(user, "resume_webhook", &step("resume"), &none).await;
    trail.does(user, "delete_webhook", &path, &none).await;
}
