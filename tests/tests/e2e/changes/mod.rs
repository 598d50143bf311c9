//! What changed: every change after a place, in order, each once.

mod concurrent;
mod cost;
mod plans;
mod read;
mod table;
mod told;
mod writers;

use serde_json::Value;
use tests::{TestApp, User};

/// A page after a place; from the beginning without one.
async fn page(user: &User, after: Option<&str>, more: &str) -> Value {
    let after = after.map_or_else(String::new, |place| format!("&after={place}"));
    user.get(&format!("/v1/changes?limit=200{after}{more}")).await.assert_status(200).json()
}

/// All changes that are there after a place, and the place after them.
async fn all_after(user: &User, after: Option<&str>) -> (Vec<Value>, String) {
    let (mut found, mut place) = (Vec::new(), after.map(str::to_owned));
    loop {
        let page = page(user, place.as_deref(), "").await;
        found.extend(page["items"].as_array().expect("items").iter().cloned());
        let next = page["next_after"].as_str().expect("a place").to_owned();
        if page["more"] == false {
            return (found, next);
        }
        place = Some(next);
    }
}

/// The end of the feed as it is now.
async fn end(user: &User) -> String {
    let page = page(user, Some("now"), "").await;
    assert_eq!(page["items"], serde_json::json!([]));
    page["next_after"].as_str().expect("a place").to_owned()
}

/// What happened after a place, as `type object_id`.
async fn told_after(app: &TestApp, user: &User, after: &str) -> Vec<(String, String)> {
    let (changes, _) = all_after(user, Some(after)).await;
    for change in &changes {
        assert_eq!(
            change["at"],
            app.state().clock.now().to_rfc3339_opts(chrono::SecondsFormat::Secs, true)
        );
    }
    changes.iter().map(|it| (text(it, "type"), text(it, "object_id"))).collect()
}

fn text(value: &Value, member: &str) -> String {
    value[member].as_str().unwrap_or_else(|| panic!("no {member} in {value}")).to_owned()
}
