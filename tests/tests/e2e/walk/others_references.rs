//! Ids of others in bodies and filters: as if they were no ids of anything.

use api::auth::role::Role;
use serde_json::{Value, json};
use tests::{Answer, TestApp, User};

use super::document::{ABSENT, Operation, operations};
use super::world::{OF_PRACTICE, World};

/// An answer without what differs from request to request.
fn alike(answer: &Answer, id: &str) -> Value {
    let text = answer.text.replace(id, "an id");
    if answer.header("content-type").starts_with("text/plain") {
        return Value::from(text);
    }
    let mut body: Value = serde_json::from_str(&text).expect("JSON");
    body.as_object_mut().expect("an object").remove("request_id");
    body
}

/// The body with ids of one's own world, but for one member.
fn referring(operation: &Operation, own: &World, member: &str, id: &str) -> Value {
    let mut body = operation.body.clone().expect("a body with references");
    for name in &operation.references {
        if body.get(name).is_some() {
            body[name] = json!(own.referred_to(name));
        }
    }
    body[member] = json!(id);
    body
}

struct Case<'a> {
    role: Role,
    user: &'a User,
    own: &'a World,
    theirs: &'a World,
    /// Whether the two worlds are of one practice.
    one_practice: bool,
}

impl Case<'_> {
    fn operations(&self) -> impl Iterator<Item = Operation> {
        let role = self.role;
        let may = move |it: &Operation| it.scope.is_some_and(|scope| scope.roles.contains(&role));
        operations().into_iter().filter(may)
    }

    fn is_hidden(&self, kind_of: &str) -> bool {
        let account = matches!(kind_of, "advisor_id" | "account_id");
        !(self.one_practice && account && OF_PRACTICE.contains(&"account"))
    }

    /// Gives how many members were tried.
    async fn bodies(&self) -> usize {
        let mut tried = 0;
        for operation in self.operations() {
            for member in operation.references.iter().filter(|name| self.is_hidden(name)) {
                let path = operation.within(self.own);
                let mut seen = Vec::new();
                for id in [self.theirs.referred_to(member), ABSENT] {
                    let body = referring(&operation, self.own, member, id);
                    let answer = operation.call_with(self.user, &path, Some(&body)).await;
                    let at = format!("{} {member}: {}", operation.id, answer.text);
                    assert!([404, 422].contains(&answer.status), "{at}");
                    if answer.status == 422 {
                        answer.assert_member(&format!("/{member}"));
                    }
                    seen.push((answer.status, alike(&answer, id)));
                }
                assert_eq!(seen[0], seen[1], "{} {member}", operation.id);
                tried += 1;
            }
        }
        tried
    }

    /// Gives how many filters were tried.
    async fn filters(&self) -> usize {
        let mut tried = 0;
        for operation in self.operations().filter(|it| it.method == "GET") {
            let filters = operation.query.iter().filter(|name| name.ends_with("_id"));
            for filter in filters.filter(|name| *name != "object_id" && self.is_hidden(name)) {
                let mut seen = Vec::new();
                for id in [self.theirs.referred_to(filter), ABSENT] {
                    let path = format!("{}?{filter}={id}", operation.within(self.own));
                    let answer = operation.call(self.user, &path).await;
                    // A report of nothing is none, in any form; a list of nothing is empty.
                    let is_report = operation.path.starts_with("/v1/seasons/");
                    let answer = answer.assert_status(if is_report { 404 } else { 200 });
                    seen.push(alike(&answer, id));
                }
                assert_eq!(seen[0], seen[1], "{} {filter}", operation.id);
                let nothing = seen[0] == ""
                    || seen[0]["items"] == json!([])
                    || seen[0]["features"] == json!([])
                    || seen[0]["code"] == "not_found";
                assert!(nothing, "{} {filter}: {}", operation.id, seen[0]);
                tried += 1;
            }
        }
        tried
    }
}

#[tokio::test]
async fn ids_of_another_practice_in_bodies_and_filters_are_ids_of_nothing() {
    let app = TestApp::start().await;
    let own = World::make(&app, &app.lead, &app.lead, "Own grower").await;
    let theirs = World::make(&app, &app.stranger, &app.stranger, "Their grower").await;
    let (role, user) = (Role::Lead, &app.lead);
    let case = Case { role, user, own: &own, theirs: &theirs, one_practice: false };
    let before = app.stranger.get("/v1/growers").await.text;
    assert!(case.bodies().await >= 8);
    assert!(case.filters().await >= 8);
    assert_eq!(app.stranger.get("/v1/growers").await.text, before, "something was written");
}

#[tokio::test]
async fn ids_of_a_colleagues_grower_in_bodies_and_filters_are_ids_of_nothing() {
    let app = TestApp::start().await;
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
    let own = World::make(&app, &app.advisor, &app.lead, "Own grower").await;
    let theirs = World::make(&app, &colleague, &app.lead, "A colleague's grower").await;
    let (role, user) = (Role::Advisor, &app.advisor);
    let case = Case { role, user, own: &own, theirs: &theirs, one_practice: true };
    assert!(case.bodies().await >= 5);
    assert!(case.filters().await >= 5);
}
