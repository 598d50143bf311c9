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
    ("account_id", "account"),
];

/// Kinds that belong to the practice as a whole, and so to no grower of it.
pub(super) const OF_PRACTICE: &[&str] =
    &["coefficient_set", "account", "machine_client", "client_secret"];

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
