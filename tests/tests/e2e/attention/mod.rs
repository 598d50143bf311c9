//! The attention list: what is on it, in which order, and what people say about it.

mod kinds;
mod limits;
mod load;
mod marks;
mod pages;

use api::auth::role::Role;
use serde_json::Value;
use tests::{TestApp, User};

/// The lead, signed in at the time it is now.
pub fn lead(app: &TestApp) -> User {
    app.again(&app.lead, Role::Lead)
}

/// The advisor, signed in at the time it is now.
pub fn advisor(app: &TestApp) -> User {
    app.again(&app.advisor, Role::Advisor)
}

/// The grower's account, signed in at the time it is now.
pub fn grower(app: &TestApp) -> User {
    app.again(&app.grower, Role::Grower)
}

/// The list that an address asks for.
pub async fn list(user: &User, query: &str) -> Vec<Value> {
    let answer = user.get(&format!("/v1/attention?{query}")).await.assert_status(200).json();
    let items = answer["items"].as_array().expect("items").clone();
    for entry in &items {
        let reason = entry["reason"].as_str().expect("a reason");
        assert!(reason.ends_with('.') && reason.len() > 20, "{reason}");
        assert!(entry["next_step"].as_str().is_some_and(|next| next.ends_with('.')), "{entry}");
    }
    items
}

/// The entries of one kind.
pub async fn of_kind(user: &User, kind: &str) -> Vec<Value> {
    let items = list(user, &format!("kind={kind}")).await;
    assert!(items.iter().all(|entry| entry["kind"] == kind));
    items
}
