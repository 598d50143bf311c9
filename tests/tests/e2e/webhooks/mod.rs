//! Notices of changes, sent to a receiver.

mod arrive;
mod fail;
mod https;
mod load;
mod manage;
mod order;
mod receiver;
mod replay;
mod together;

use api::notices::deliver_all_due;
use serde_json::{Value, json};
use tests::{Answer, TestApp, User};

use receiver::{Receiver, Reply};

/// A webhook that was made.
struct Hook {
    id: String,
    secret: String,
}

impl Hook {
    /// Made by the lead.
    async fn make(app: &TestApp, url: &str, more: Value) -> Self {
        Self::by(&app.lead, url, more).await
    }

    async fn by(user: &User, url: &str, more: Value) -> Self {
        let mut body = json!({"name": "Records of the county", "url": url});
        for (name, value) in more.as_object().expect("members") {
            body[name] = value.clone();
        }
        let made = user.post("/v1/webhooks", &body).await.assert_status(201).json();
        let text = |value: &Value| value.as_str().expect("a text").to_owned();
        Self { id: text(&made["webhook"]["id"]), secret: text(&made["secret"]) }
    }

    fn path(&self) -> String {
        format!("/v1/webhooks/{}", self.id)
    }

    async fn read(&self, app: &TestApp) -> Value {
        app.lead.get(&self.path()).await.assert_status(200).json()
    }

    /// A step such as `pause`.
    async fn step(&self, app: &TestApp, step: &str) -> Answer {
        app.lead.send("POST", &format!("{}/{step}", self.path()), &[], None).await
    }

    async fn deliveries(&self, app: &TestApp, query: &str) -> Vec<Value> {
        let path = format!("{}/deliveries{query}", self.path());
        let page = app.lead.get(&path).await.assert_status(200).json();
        page["items"].as_array().expect("items").clone()
    }
}

/// Something changes: a grower comes.
async fn change(app: &TestApp, name: &str) -> String {
    app.lead.create("/v1/growers", &json!({"name": name})).await
}

/// All that is due goes out.
async fn pump(app: &TestApp) {
    deliver_all_due(app.state()).await.expect("delivered");
}
