//! Machine clients: what the lead does with them, and the tokens that they get.

mod manage;
mod tokens;

use serde_json::{Value, json};
use tests::{Answer, TestApp};

const FORM: (&str, &str) = ("content-type", "application/x-www-form-urlencoded");

/// A client that was made.
struct Client {
    id: String,
    secret: String,
    secret_id: String,
}

async fn make(app: &TestApp, name: &str, role: &str, scopes: &[&str]) -> Client {
    let body = json!({"name": name, "role": role, "scopes": scopes});
    let made = app.lead.post("/v1/machine-clients", &body).await.assert_status(201).json();
    let text = |value: &Value| value.as_str().expect("a text").to_owned();
    Client {
        id: text(&made["client"]["id"]),
        secret: text(&made["secret"]["client_secret"]),
        secret_id: text(&made["secret"]["id"]),
    }
}

async fn records(app: &TestApp) -> Client {
    make(app, "Records of the county", "records_system", &["read", "keep"]).await
}

/// Asks for a token with a form and further headers.
async fn ask(app: &TestApp, headers: &[(&str, &str)], form: &str) -> Answer {
    let mut all = vec![FORM];
    all.extend_from_slice(headers);
    app.nobody.send_text("POST", "/oauth/token", &all, Some(form.to_owned())).await
}

impl Client {
    /// The form with which the client asks for a token.
    fn form(&self, more: &str) -> String {
        let Self { id, secret, secret_id: _ } = self;
        format!("grant_type=client_credentials&client_id={id}&client_secret={secret}{more}")
    }

    fn path(&self) -> String {
        format!("/v1/machine-clients/{}", self.id)
    }

    async fn token(&self, app: &TestApp, more: &str) -> String {
        let got = ask(app, &[], &self.form(more)).await.assert_status(200).json();
        got["access_token"].as_str().expect("a token").to_owned()
    }
}
