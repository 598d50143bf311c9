//! Tokens of outside issuers, with a stand-in for an issuer on this computer.

mod accounts;
mod keys;
mod stand_in;
mod tokens;

use api::app::{App, Config, Running};
use serde_json::{Value, json};
use tempfile::TempDir;
use tests::{Answer, TestApp};

use stand_in::{Signer, StandIn};

/// Who the stand-in's tokens are for.
const AUDIENCE: &str = "dibble-test";

/// The service of a test, and a second process on its database that takes tokens of issuers.
struct Outside {
    app: TestApp,
    base: String,
    running: Running,
    _folder: TempDir,
}

impl Outside {
    /// Starts one that takes tokens of this issuer.
    async fn start(issuer: &StandIn) -> Self {
        Self::with(&[issuer], json!({})).await
    }

    /// Starts one that takes tokens of these issuers, with more settings for each.
    async fn with(issuers: &[&StandIn], more: Value) -> Self {
        let app = TestApp::start().await;
        let entries = issuers.iter().map(|issuer| entry(&app, &issuer.name(), &more));
        let entries: Vec<Value> = entries.collect();
        Self::on(app, &json!({"issuers": entries})).await.expect("the service starts")
    }

    /// Starts the second process with this file.
    async fn on(app: TestApp, file: &Value) -> Result<Self, String> {
        let folder = TempDir::new().expect("a temporary folder");
        let path = folder.path().join("issuers.json");
        std::fs::write(&path, file.to_string()).expect("the file");
        let mut settings = app.state().settings.clone();
        settings.issuers = Some(path);
        let config = Config::with_clock(settings, app.clock.clone());
        let running = App::build(config).await.map_err(|error| error.to_string())?;
        let base = format!("http://{}", running.address);
        Ok(Self { app, base, running, _folder: folder })
    }

    /// Asks for the growers with a token.
    async fn ask(&self, token: &str) -> Answer {
        self.app.nobody.with_token(token).at(&self.base).get("/v1/growers").await
    }

    /// A good token of an issuer for the advisor of the practice.
    fn token(&self, issuer: &StandIn, signer: &Signer) -> String {
        self.token_with(issuer, signer, json!({}))
    }

    /// The same with other claims; `null` leaves one out.
    fn token_with(&self, issuer: &StandIn, signer: &Signer, claims: Value) -> String {
        signer.sign(&claims_for(&self.app, issuer, claims))
    }

    async fn stop(self) {
        self.running.stop().await.expect("a good end");
    }
}

/// The claims of a good token, changed.
fn claims_for(app: &TestApp, issuer: &StandIn, claims: Value) -> Value {
    let now = app.state().clock.now().timestamp();
    let mut all = json!({
        "iss": issuer.name(), "aud": AUDIENCE, "sub": "advisor-outside", "iat": now,
        "exp": now + 300, "email": "advisor@example.org", "email_verified": true
    });
    for (name, value) in claims.as_object().expect("members") {
        all[name] = value.clone();
    }
    all.as_object_mut().expect("members").retain(|_, value| !value.is_null());
    all
}

fn entry(app: &TestApp, issuer: &str, more: &Value) -> Value {
    let mut entry = json!({
        "issuer": issuer, "audience": AUDIENCE, "practice_id": app.practice_id,
    });
    for (name, value) in more.as_object().expect("members") {
        entry[name] = value.clone();
    }
    entry
}
