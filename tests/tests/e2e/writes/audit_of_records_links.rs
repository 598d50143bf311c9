//! The events of links to records systems and their runs.

use serde_json::{Value, json};
use tests::TestApp;

use super::audit::Trail;

/// Everything that is done with a link; none of it tells the secret.
pub(super) async fn records_links(trail: &mut Trail<'_>, app: &TestApp) {
    let (user, all) = (&app.records_system, "/v1/records-links");
    let auth = json!({"kind": "header", "name": "X-Key", "secret": "hush-31-invented"});
    let body = json!({
        "name": "Audited", "system": "audited", "base_url": "http://127.0.0.1:9/api", "auth": auth,
        "resources": {"growers": {"path": "/growers", "items": "$[*]", "id": "/id", "name": "/name"}}
    });
    let (made, event) = trail.does(user, "create_records_link", all, &body).await;
    let id = made.id();
    assert_eq!((event.object_kind.as_str(), &event.object_id), ("records_link", &id));
    assert_eq!(event.grower_id, None);
    let path = format!("{all}/{id}");
    let (_, event) = trail.does(user, "update_records_link", &path, &json!({"auth": auth})).await;
    assert!(!format!("{event:?}").contains("hush-31"));
    let runs = format!("{path}/runs");
    let (run, event) =
        trail.does(user, "create_records_run", &runs, &json!({"mode": "preview"})).await;
    assert_eq!((event.object_kind.as_str(), event.object_id), ("records_run", run.id()));
    trail.does(user, "delete_records_link", &path, &Value::Null).await;
}
