//! One object of every kind that an operation can lead to, or refer to.

use std::collections::BTreeMap;

use serde_json::{Value, json};
use tests::{CATALOGUE, Farmstead, PASSWORD, TestApp, User};

/// Kinds that are no part of a farmstead.
const MORE: &[(&str, &str)] = &[
    ("/v1/accounts/{id}", "account"),
    ("/v1/machine-clients/{id}", "machine_client"),
    ("/v1/access-links/{id}", "access_link"),
    ("/v1/sessions/{id}", "session"),
    ("/v1/calendar-feeds/{id}", "calendar_feed"),
    ("/v1/jobs/{id}", "job"),
    ("/v1/webhooks/{id}", "webhook"),
    ("/v1/records-links/{id}", "records_link"),
    ("/v1/trials/{id}", "trial"),
    ("/v1/inspections/{id}", "inspection"),
    ("/v1/plantings/{id}", "planting"),
    ("/v1/stand-counts/{id}", "stand_count"),
    ("/v1/yields/{id}", "yield"),
    ("/v1/record-matches/{id}", "record_match"),
    ("/v1/record-conflicts/{id}", "record_conflict"),
];

/// What a member or a filter of this name refers to.
const REFERENCES: &[(&str, &str)] = &[
    ("grower_id", "grower"),
    ("farm_id", "farm"),
    ("field_id", "field"),
    ("planter_id", "planter"),
    ("conditions_id", "conditions"),
    ("calibration_id", "calibration"),
    ("recommendation_id", "recommendation"),
    ("advisor_id", "account"),
    ("planting_id", "planting"),
    ("account_id", "account"),
    ("replaces_id", "inspection"),
    ("object_id", "grower"),
];

/// Kinds that belong to the practice as a whole, and so to no grower of it.
pub(super) const OF_PRACTICE: &[&str] = &[
    "coefficient_set",
    "account",
    "machine_client",
    "client_secret",
    "job",
    "webhook",
    "delivery",
    "records_link",
    "records_run",
];

/// Every kind.
pub(super) const KINDS: &[&str] = &[
    "grower",
    "farm",
    "field",
    "planter",
    "calibration",
    "conditions",
    "recommendation",
    "dig_check",
    "adjustment",
    "coefficient_set",
    "account",
    "machine_client",
    "client_secret",
    "access_link",
    "session",
    "calendar_feed",
    "job",
    "webhook",
    "delivery",
    "trial",
    "inspection",
    "planting",
    "stand_count",
    "yield",
    "record_match",
    "record_conflict",
    "records_link",
    "records_run",
];

/// One object of every kind, all of one owner.
pub(super) struct World(BTreeMap<&'static str, String>);

impl World {
    /// Makes one as `user`, of a new grower of this name, with the session of an account.
    pub(super) async fn make(app: &TestApp, user: &User, lead: &User, name: &str) -> Self {
        let stead = Farmstead::make(user, name).await;
        stead.issue(user).await;
        let stead = stead.with_dig(user).await;
        let mut ids = BTreeMap::new();
        for (_, kind) in CATALOGUE {
            ids.insert(*kind, stead.id_of(kind).expect("one of each").to_owned());
        }
        ids.insert("account", user.account_id.clone());
        let calibrations = format!("/v1/planters/{}/calibrations", stead.planter);
        let calibrations = user.get(&calibrations).await.assert_status(200).json();
        ids.insert("calibration", id_at(&calibrations, "/items/0/id"));
        let link = user.post("/v1/access-links", &json!({"grower_id": stead.grower})).await;
        ids.insert("access_link", id_at(&link.assert_status(201).json(), "/link/id"));
        let client = json!({"name": name, "role": "read_only", "scopes": ["read"]});
        let client = lead.post("/v1/machine-clients", &client).await.assert_status(201).json();
        ids.insert("machine_client", id_at(&client, "/client/id"));
        ids.insert("client_secret", id_at(&client, "/secret/id"));
        ids.insert("session", session_of(app, user).await);
        let feed = user.post("/v1/calendar-feeds", &json!({"grower_id": stead.grower})).await;
        ids.insert("calendar_feed", id_at(&feed.assert_status(201).json(), "/feed/id"));
        let mail = format!("/v1/accounts/{}/password-links/mail", user.account_id);
        let job = lead.send("POST", &mail, &[], None).await.assert_status(202).json();
        ids.insert("job", id_at(&job, "/job_id"));
        let hook = json!({"name": name, "url": "http://127.0.0.1:9/notices"});
        let hook = lead.post("/v1/webhooks", &hook).await.assert_status(201).json();
        let hook = id_at(&hook, "/webhook/id");
        let test = lead.send("POST", &format!("/v1/webhooks/{hook}/test"), &[], None).await;
        ids.insert("delivery", test.assert_status(201).id());
        ids.insert("webhook", hook);
        let link = lead.create("/v1/records-links", &link_called(name)).await;
        let run = format!("/v1/records-links/{link}/runs");
        let run = lead.post(&run, &json!({"mode": "preview"})).await.assert_status(202).id();
        ids.insert("records_link", link);
        ids.insert("records_run", run);
        ids.insert("trial", trial_of(user, &stead).await);
        ids.insert("inspection", inspection_of(user, &stead).await);
        let (planting, stand_count) = grown(user, &stead).await;
        ids.insert("planting", planting);
        ids.insert("stand_count", stand_count);
        ids.insert("yield", harvested(user, &stead).await);
        let (waiting, conflict) = upstream(user, lead, &stead, name).await;
        ids.insert("record_match", waiting);
        ids.insert("record_conflict", conflict);
        Self(ids)
    }

    /// The id of the object of this kind.
    pub(super) fn id_of(&self, kind: &str) -> &str {
        self.0.get(kind).unwrap_or_else(|| panic!("no {kind} in the world of the walk"))
    }

    /// The id of what a member or a filter of this name refers to.
    pub(super) fn referred_to(&self, name: &str) -> &str {
        let known = REFERENCES.iter().find(|(known, _)| *known == name);
        self.id_of(known.unwrap_or_else(|| panic!("{name} refers to nothing that is known")).1)
    }

    /// The kind of the object under a path that ends with a slash.
    pub(super) fn kind_of_path(before: &str) -> &'static str {
        let whole = format!("{before}{{id}}");
        let found = CATALOGUE.iter().chain(MORE).find(|(path, _)| *path == whole);
        found.unwrap_or_else(|| panic!("{whole} is not known to the walk")).1
    }
}

/// A planting of last spring, and its stand count.
async fn grown(user: &User, stead: &Farmstead) -> (String, String) {
    let planted = json!({"planter_id": stead.planter, "planted_on": "2026-05-02", "crop": "corn"});
    let path = format!("/v1/fields/{}/plantings", stead.field);
    let planting = user.create(&path, &planted).await;
    let counted = json!({"planting_id": planting, "counted_on": "2026-05-28", "count": {
        "kind": "hoop", "diameter": {"value": 30, "unit": "[in_i]"},
        "counts": [{"place": 1, "plants": 4}, {"place": 2, "plants": 3}]
    }});
    let path = format!("/v1/fields/{}/stand-counts", stead.field);
    (planting, user.create(&path, &counted).await)
}

/// A record that waits since it may be the grower, and one whose name is in conflict.
async fn upstream(user: &User, lead: &User, stead: &Farmstead, name: &str) -> (String, String) {
    let put = async |path: &str, body: &Value| {
        let path = format!("/v1/external/walked/{path}");
        lead.send("PUT", &path, &[], Some(body)).await
    };
    let grower = json!({"name": name.to_uppercase()});
    put(&format!("growers/{}", stead.grower), &grower).await.assert_status(409);
    let list = format!("/v1/record-matches?grower_id={}", stead.grower);
    let matches = user.get(&list).await.assert_status(200).json();
    let farm = |name: &str| json!({"grower_id": stead.grower, "name": name});
    let path = format!("farms/{}", stead.farm);
    let made = put(&path, &farm("Second farm")).await.assert_status(201).json();
    let ours = format!("/v1/farms/{}", made["farm"]["id"].as_str().expect("an id"));
    user.patch(&ours, "*", &json!({"name": "Ours"})).await.assert_status(200);
    put(&path, &farm("Theirs")).await.assert_status(409);
    let list = format!("/v1/record-conflicts?grower_id={}", stead.grower);
    let conflicts = user.get(&list).await.assert_status(200).json();
    (id_at(&matches, "/items/0/id"), id_at(&conflicts, "/items/0/id"))
}

/// A link to a records system that nobody runs.
fn link_called(name: &str) -> Value {
    json!({
        "name": name, "system": "walked", "base_url": "http://127.0.0.1:9/api", "auth": {"kind": "none"},
        "resources": {"growers": {"path": "/growers", "items": "$[*]", "id": "/id", "name": "/name"}}
    })
}

/// What the field gave last autumn.
async fn harvested(user: &User, stead: &Farmstead) -> String {
    let grain = json!({"value": 8, "unit": "t/har"});
    let body =
        json!({"harvested_on": "2026-10-12", "crop": "corn", "grain": grain, "basis": "dry"});
    user.create(&format!("/v1/fields/{}/yields", stead.field), &body).await
}

/// An inspection that measured the discs of the planter.
async fn inspection_of(user: &User, stead: &Farmstead) -> String {
    let findings =
        json!([{"item": "opener_diameter", "measured": {"value": 14.9, "unit": "[in_i]"}}]);
    let body = json!({"inspected_on": "2027-03-01", "findings": findings});
    user.create(&format!("/v1/planters/{}/inspections", stead.planter), &body).await
}

/// A trial that runs, on rows of the planter.
async fn trial_of(user: &User, stead: &Farmstead) -> String {
    let body = json!({
        "field_id": stead.field, "planter_id": stead.planter, "name": "Spiked wheels",
        "design": {
            "crop": "corn", "trying": "closing_wheel",
            "treatments": [{"name": "smooth"}, {"name": "spiked"}],
            "way": {"kind": "planter_rows", "rows_each": 2}, "blocks": 4,
            "responses": [{"kind": "emergence"}]
        }
    });
    let id = user.create("/v1/trials", &body).await;
    let start = format!("/v1/trials/{id}/start");
    user.send("POST", &start, &[("if-match", "*")], None).await.assert_status(200);
    id
}

/// Signs in with the password, as people do; gives the session.
async fn session_of(app: &TestApp, user: &User) -> String {
    let email = user.get("/v1/accounts/me").await.json()["email"].clone();
    let signed_in = json!({"email": email, "password": PASSWORD});
    app.nobody.post("/v1/sessions", &signed_in).await.assert_status(201).id()
}

fn id_at(body: &Value, pointer: &str) -> String {
    let id = body.pointer(pointer).and_then(Value::as_str);
    id.unwrap_or_else(|| panic!("no {pointer} in {body}")).to_owned()
}
