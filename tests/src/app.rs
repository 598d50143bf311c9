//! The service, started for one test.

use std::sync::Arc;

use api::app::{App, AppState, Config, Running};
use api::auth::accounts::{self, NewAccount};
use api::auth::role::Role;
use api::auth::token::{self, Granted, Subject};
use api::clock::FixedClock;
use api::config::{SealingKey, Settings};
use api::v1::units::Units;
use chrono::{DateTime, TimeDelta, Utc};
use serde_json::json;
use tokio::sync::OnceCell;
use uuid::Uuid;

use crate::User;
use crate::database::TestDatabase;

/// The time at which every test starts.
pub const NOON: &str = "2027-04-20T12:00:00Z";

/// The password of every test account.
pub const PASSWORD: &str = "a long enough one";

/// The service on a free port with a database of its own and one user of each kind.
#[derive(Debug)]
pub struct TestApp {
    /// Where it answers, as `http://127.0.0.1:port`.
    pub base: String,
    /// The clock; stands at [`NOON`] until it is moved.
    pub clock: Arc<FixedClock>,
    /// No token.
    pub nobody: User,
    /// Leads the practice.
    pub lead: User,
    /// Advises in the practice.
    pub advisor: User,
    /// The account of a grower of the practice.
    pub grower: User,
    /// Id of that grower.
    pub own_grower_id: String,
    /// Reads only.
    pub read_only: User,
    /// A farm records system of the practice.
    pub records_system: User,
    /// Leads another practice.
    pub stranger: User,
    /// Id of the practice.
    pub practice_id: Uuid,
    running: Running,
    _database: TestDatabase,
}

impl TestApp {
    /// Starts one with ordinary settings.
    pub async fn start() -> Self {
        Self::start_with(|_settings| ()).await
    }

    /// Starts one with settings of its own.
    pub async fn start_with(change: impl FnOnce(&mut Settings)) -> Self {
        let database = TestDatabase::with_schema().await;
        let mut settings = Settings::on(database.url.clone());
        settings.workers = 1;
        settings.sealing_keys = vec![SealingKey::of([7; 32])];
        settings.outgoing.allow = vec!["127.0.0.0/8".parse().expect("a network")];
        change(&mut settings);
        let noon: DateTime<Utc> = NOON.parse().expect("time");
        let clock = Arc::new(FixedClock::new(noon));
        let config = Config::with_clock(settings, clock.clone());
        let running = App::build(config).await.expect("the service starts");
        let base = format!("http://{}", running.address);
        let nobody = User::nobody(&base);

        let state = &running.state;
        let ours = practice(state, "Prairie Advisors").await;
        let theirs = practice(state, "Someone Else").await;
        let lead = account(state, &nobody, ours, ("lead", Role::Lead, None)).await;
        let grower_body = json!({"name": "Miller Brothers"});
        let own_grower_id = lead.create("/v1/growers", &grower_body).await;
        let own = Uuid::parse_str(&own_grower_id).ok();
        Self {
            advisor: account(state, &nobody, ours, ("advisor", Role::Advisor, None)).await,
            grower: account(state, &nobody, ours, ("grower", Role::Grower, own)).await,
            read_only: account(state, &nobody, ours, ("reader", Role::ReadOnly, None)).await,
            records_system: account(state, &nobody, ours, ("records", Role::RecordsSystem, None))
                .await,
            stranger: account(state, &nobody, theirs, ("stranger", Role::Lead, None)).await,
            base,
            clock,
            nobody,
            lead,
            own_grower_id,
            practice_id: ours,
            running,
            _database: database,
        }
    }

    /// One more account of the practice.
    pub async fn someone(&self, name: &str, role: Role, grower: Option<&str>) -> User {
        let grower = grower.map(|id| Uuid::parse_str(id).expect("an id"));
        account(self.state(), &self.nobody, self.practice_id, (name, role, grower)).await
    }

    /// A user of the practice with a token that grants only these scopes.
    pub fn narrowed(&self, user: &User, role: Role, scope: &str) -> User {
        let account_id = Uuid::parse_str(&user.account_id).expect("an id");
        let subject = Subject { account_id, practice_id: self.practice_id, role };
        let granted = Granted { scope: Some(scope.to_owned()), ..Granted::default() };
        let token = token::issue(self.state(), subject, granted, TimeDelta::hours(12));
        user.with_token(&token.expect("a token"))
    }

    /// A user of the practice with a token of now: for tests that move the clock far.
    pub fn signed_in_now(&self, user: &User, role: Role) -> User {
        let account_id = Uuid::parse_str(&user.account_id).expect("an id");
        let subject = Subject { account_id, practice_id: self.practice_id, role };
        let token = token::issue(self.state(), subject, Granted::default(), TimeDelta::hours(12));
        user.with_token(&token.expect("a token"))
    }

    /// A user of the practice with a new token: one from before is too old once the clock was moved far.
    pub fn again(&self, user: &User, role: Role) -> User {
        let account_id = Uuid::parse_str(&user.account_id).expect("an id");
        let subject = Subject { account_id, practice_id: self.practice_id, role };
        let token = token::issue(self.state(), subject, Granted::default(), TimeDelta::hours(12));
        user.with_token(&token.expect("a token"))
    }

    /// The state of the service, for what can't be seen from outside.
    pub fn state(&self) -> &AppState {
        &self.running.state
    }

    /// Ends the service in good order.
    pub async fn stop(self) {
        self.running.stop().await.expect("a good end");
    }
}

async fn practice(state: &AppState, name: &str) -> Uuid {
    accounts::practice(&state.db, state.maker(), name).await.expect("a practice")
}

/// Every test account has the same password, so it is hashed once: hashing is slow on purpose.
static HASH: OnceCell<String> = OnceCell::const_new();

async fn account(
    state: &AppState,
    nobody: &User,
    practice_id: Uuid,
    (name, role, grower_id): (&str, Role, Option<Uuid>),
) -> User {
    let new = NewAccount {
        email: format!("{name}@example.org"),
        display_name: name.to_owned(),
        role,
        grower_id,
        password: PASSWORD.to_owned(),
        units: Units::Us,
    };
    let hash = HASH
        .get_or_init(|| async { state.passwords.hash(PASSWORD.to_owned()).await.expect("a hash") })
        .await;
    let made = accounts::create_with_hash(&state.db, state.maker(), practice_id, new, hash.clone())
        .await
        .expect("an account");
    let subject = Subject { account_id: made.id, practice_id, role };
    let granted = Granted::default();
    let token = token::issue(state, subject, granted, TimeDelta::hours(12)).expect("a token");
    nobody.signed_in(&token, &made.id.to_string())
}
