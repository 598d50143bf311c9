//! What all lists have: cursors, changes since a time, counts, names.

mod changes;
mod counts;
mod cursors;
mod names;

use serde_json::{Value, json};
use tests::{TestApp, User};

/// Makes growers of these names, one after the other.
async fn growers(app: &TestApp, names: &[&str]) -> Vec<String> {
    let mut ids = Vec::new();
    for name in names {
        ids.push(app.lead.create("/v1/growers", &json!({"name": name})).await);
    }
    ids
}

/// The ids of a page.
fn ids(page: &Value) -> Vec<String> {
    let items = page["items"].as_array().expect("items");
    items.iter().map(|item| item["id"].as_str().expect("an id").to_owned()).collect()
}

async fn page(user: &User, path: &str) -> Value {
    user.get(path).await.assert_status(200).json()
}

/// All ids of a list, page by page; `path` already has a parameter.
async fn walk(user: &User, path: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut next = path.to_owned();
    loop {
        let page = page(user, &next).await;
        found.extend(ids(&page));
        match page["next_cursor"].as_str() {
            Some(cursor) => next = format!("{path}&cursor={cursor}"),
            None => return found,
        }
    }
}
