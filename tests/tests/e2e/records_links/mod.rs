//! Links to records systems: profiles, tests, runs, and systems that misbehave.

mod attention;
mod fair;
mod faults;
mod https;
mod land;
mod links;
mod load;
mod pages;
mod runs;
mod sign_in;
mod stand_in;
mod trial;

use api::exchange::pull::runs::work_off;
use serde_json::{Value, json};
use tests::{TestApp, User};

/// A link that was made.
struct Link {
    id: String,
    user: User,
}

impl Link {
    async fn make(user: &User, body: &Value) -> Self {
        let id = user.create("/v1/records-links", body).await;
        Self { id, user: user.clone() }
    }

    fn path(&self) -> String {
        format!("/v1/records-links/{}", self.id)
    }

    async fn change(&self, change: &Value) {
        self.user.patch(&self.path(), "*", change).await.assert_status(200);
    }

    async fn test(&self) -> Value {
        let path = format!("{}/test", self.path());
        self.user.send("POST", &path, &[], None).await.assert_status(200).json()
    }

    /// Asks for a run, has it done, and reads it.
    async fn run(&self, app: &TestApp, body: Value) -> Value {
        let path = format!("{}/runs", self.path());
        let run = self.user.post(&path, &body).await.assert_status(202);
        assert_eq!(run.json()["status"], "waiting");
        assert_eq!(work_off(app.state()).await.expect("worked off"), 1);
        self.read(&run.id()).await
    }

    async fn read(&self, run: &str) -> Value {
        self.user.get(&format!("{}/runs/{run}", self.path())).await.assert_status(200).json()
    }

    async fn apply(&self, app: &TestApp) -> Value {
        self.run(app, json!({"mode": "apply"})).await
    }

    /// Asks for a run that ends before its end; gives why.
    async fn stopped(&self, app: &TestApp) -> Value {
        let run = self.apply(app).await;
        assert_eq!(run["run"]["status"], "failed", "{run}");
        run["stopped"].clone()
    }
}

/// The counts of a kind.
fn counts(run: &Value, kind: &str) -> Value {
    assert_eq!(run["run"]["status"], "done", "{run}");
    let all = run["run"]["counts"].as_array().expect("counts");
    let found = all.iter().find(|counts| counts["kind"] == kind);
    found.unwrap_or_else(|| panic!("no {kind} in {run}")).clone()
}

/// How many objects the practice has.
async fn how_many(app: &TestApp, path: &str) -> usize {
    let page = app.lead.get(&format!("{path}?limit=200")).await.assert_status(200).json();
    page["items"].as_array().expect("items").len()
}
