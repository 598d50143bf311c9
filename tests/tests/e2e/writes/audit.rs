//! Every operation that writes leaves one event in the audit trail; what fails leaves none.

use std::collections::BTreeSet;

use api::entities::audit_events::Model;
use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp, User};

use super::audit_of_follow_up::{attention, feeds, mail};
use super::audit_of_imports::imports;
use super::audit_of_notices::webhooks;
use super::audit_of_people::{erasure, links, machines, people};
use super::audit_of_records::records;
use super::audit_of_records_links::records_links;
use super::audit_of_season::{shed, stands, trials};
use super::document::writing;
use super::events;

/// Operations that leave no event: a token is given out, and whoever had one before goes on.
const NO_EVENT: &[&str] = &["issue_token", "refresh_session"];

/// Does operations by their ids, and looks at the event of each.
pub(super) struct Trail<'a> {
    app: &'a TestApp,
    document: Value,
    length: usize,
    done: BTreeSet<String>,
}

impl<'a> Trail<'a> {
    pub(super) async fn of(app: &'a TestApp) -> Self {
        let document = serde_json::to_value(api::routes::document()).expect("JSON");
        let (length, done) = (events(app).await.len(), BTreeSet::new());
        Self { app, document, length, done }
    }

    fn method_of(&self, operation: &str) -> String {
        let paths = self.document["paths"].as_object().expect("paths");
        let methods = paths.values().flat_map(|item| item.as_object().expect("operations"));
        let mut found = methods.filter(|(_, it)| it["operationId"] == operation);
        found
            .next()
            .unwrap_or_else(|| panic!("{operation} is not in the document"))
            .0
            .to_uppercase()
    }

    /// Passes over what was done meanwhile.
    pub(super) async fn goes_on(&mut self) {
        self.length = events(self.app).await.len();
    }

    /// Does one, which must succeed; gives the answer and the one event that it left.
    pub(super) async fn does(
        &mut self,
        user: &User,
        operation: &str,
        path: &str,
        body: &Value,
    ) -> (Answer, Model) {
        let method = self.method_of(operation);
        let body = Some(body).filter(|body| !body.is_null());
        let answer = user.send(&method, path, &[("if-match", "*")], body).await;
        let event = self.event_of(user, operation, &answer).await;
        let members = body.filter(|_| matches!(method.as_str(), "PATCH" | "PUT"));
        let names = members
            .map(|body| json!(body.as_object().expect("members").keys().collect::<Vec<_>>()));
        assert_eq!(event.changed, names, "{operation}");
        (answer, event)
    }

    /// The same where the event tells of the object that the record is about, not of the body.
    pub(super) async fn says(
        &mut self,
        user: &User,
        operation: &str,
        path: &str,
        body: &Value,
    ) -> (Answer, Model) {
        let method = self.method_of(operation);
        let body = Some(body).filter(|body| !body.is_null());
        let answer = user.send(&method, path, &[("if-match", "*")], body).await;
        let event = self.event_of(user, operation, &answer).await;
        (answer, event)
    }

    /// The same with a file of comma-separated values.
    pub(super) async fn does_csv(
        &mut self,
        user: &User,
        operation: &str,
        path: &str,
        file: &str,
    ) -> (Answer, Model) {
        let (method, csv) = (self.method_of(operation), [("content-type", "text/csv")]);
        let answer = user.send_text(&method, path, &csv, Some(file.to_owned())).await;
        let event = self.event_of(user, operation, &answer).await;
        assert_eq!(event.changed, None, "{operation}");
        (answer, event)
    }

    /// The same with a task file as its body.
    pub(super) async fn does_xml(
        &mut self,
        user: &User,
        operation: &str,
        path: &str,
        file: &str,
    ) -> (Answer, Model) {
        let (method, xml) = (self.method_of(operation), [("content-type", "application/xml")]);
        let answer = user.send_text(&method, path, &xml, Some(file.to_owned())).await;
        let event = self.event_of(user, operation, &answer).await;
        (answer, event)
    }

    /// The one event that a success left.
    async fn event_of(&mut self, user: &User, operation: &str, answer: &Answer) -> Model {
        assert!(
            (200..300).contains(&answer.status),
            "{operation}: {} {}",
            answer.status,
            answer.text
        );
        let mut trail = events(self.app).await;
        assert_eq!(trail.len(), self.length + 1, "{operation} leaves one event");
        self.length += 1;
        let event = trail.pop().expect("an event");
        assert_eq!(event.operation, operation);
        assert_eq!(event.at, self.app.state().clock.now(), "{operation}");
        assert_eq!(event.request_id, answer.header("x-request-id"), "{operation}");
        assert!(!event.object_kind.is_empty() && !event.object_id.is_empty(), "{operation}");
        if user.token.is_some() {
            assert_eq!(event.account_id.to_string(), user.account_id, "{operation}");
        }
        self.done.insert(operation.to_owned());
        event
    }

    /// Fails when an operation that writes was left out.
    fn is_whole(&self) {
        let all = writing(&self.document);
        let ids = all.iter().map(|it| it["operationId"].as_str().expect("an id"));
        let left: Vec<_> =
            ids.filter(|id| !self.done.contains(*id) && !NO_EVENT.contains(id)).collect();
        assert!(left.is_empty(), "no event was looked at for {left:?}");
        assert!(all.len() >= 25, "only {} operations write", all.len());
    }
}

#[tokio::test]
async fn every_operation_that_writes_leaves_one_event() {
    let app = TestApp::start().await;
    let mut trail = Trail::of(&app).await;
    let stead = land(&mut trail, &app).await;
    shed(&mut trail, &app, &stead).await;
    stands(&mut trail, &app, &stead).await;
    trials(&mut trail, &app, &stead).await;
    advice(&mut trail, &app, stead).await;
    imports(&mut trail, &app).await;
    attention(&mut trail, &app).await;
    feeds(&mut trail, &app).await;
    webhooks(&mut trail, &app).await;
    records_links(&mut trail, &app).await;
    records(&mut trail, &app).await;
    mail(&mut trail, &app).await;
    figures_and_accounts(&mut trail, &app).await;
    machines(&mut trail, &app).await;
    links(&mut trail, &app).await;
    erasure(&mut trail, &app).await;
    people(&mut trail, &app).await;
    trail.is_whole();
}

async fn land(trail: &mut Trail<'_>, app: &TestApp) -> Farmstead {
    let user = &app.lead;
    let name = |name: &str| json!({"name": name});
    let (made, event) = trail.does(user, "create_grower", "/v1/growers", &name("Audited")).await;
    let grower = made.id();
    assert_eq!((event.object_kind.as_str(), &event.object_id), ("grower", &grower));
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(grower.clone()));
    assert_eq!((event.role, event.client_id), (api::auth::role::Role::Lead, None));
    let path = format!("/v1/growers/{grower}");
    trail.does(&app.advisor, "update_grower", &path, &json!({"phone": "555 0123"})).await;
    let farm = json!({"grower_id": grower, "name": "Home"});
    let (made, event) = trail.does(user, "create_farm", "/v1/farms", &farm).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(grower.clone()));
    let farm = made.id();
    let farm_path = format!("/v1/farms/{farm}");
    trail.does(user, "update_farm", &farm_path, &name("Home place")).await;
    let (made, event) =
        trail.does(user, "create_field", "/v1/fields", &Farmstead::field_body(&farm)).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(grower.clone()), "by its farm");
    let field_path = format!("/v1/fields/{}", made.id());
    trail.does(user, "update_field", &field_path, &json!({"notes": null})).await;
    let planter = Farmstead::planter_body(&grower);
    let (made, _) = trail.does(user, "create_planter", "/v1/planters", &planter).await;
    let planter_path = format!("/v1/planters/{}", made.id());
    trail.does(user, "update_planter", &planter_path, &name("The other eight-row")).await;
    for (operation, path) in [
        ("delete_field", &field_path),
        ("delete_farm", &farm_path),
        ("delete_planter", &planter_path),
        ("delete_grower", &path),
    ] {
        let (_, event) = trail.does(user, operation, path, &Value::Null).await;
        assert_eq!(event.grower_id.map(|id| id.to_string()), Some(grower.clone()), "{operation}");
    }
    let stead = Farmstead::of_grower(user, &app.own_grower_id).await;
    let path = format!("/v1/planters/{}/calibrations", stead.planter);
    trail.goes_on().await;
    trail.does(user, "create_calibration", &path, &Farmstead::calibration_body()).await;
    stead
}

async fn advice(trail: &mut Trail<'_>, app: &TestApp, stead: Farmstead) {
    let (user, none) = (&app.advisor, Value::Null);
    let own = Some(app.own_grower_id.clone());
    let path = format!("/v1/fields/{}/conditions", stead.field);
    trail.does(user, "create_conditions_report", &path, &Farmstead::conditions_body()).await;
    let goals = json!({
        "depth": {"value": 2, "unit": "[in_i]"}, "speed": {"value": 5, "unit": "[mi_i]/h"}
    });
    let wanted = stead.recommendation_body(&goals);
    let all = "/v1/recommendations";
    let (draft, _) = trail.does(user, "create_recommendation", all, &wanted).await;
    let draft = format!("{all}/{}", draft.id());
    trail.does(user, "delete_recommendation", &draft, &none).await;
    let (sheet, event) = trail.does(user, "create_recommendation", all, &wanted).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), own, "by its field");
    let sheet = format!("{all}/{}", sheet.id());
    trail.does(user, "issue_recommendation", &format!("{sheet}/issue"), &none).await;
    let seen = format!("{sheet}/acknowledge");
    let (_, event) = trail.does(&app.grower, "acknowledge_recommendation", &seen, &none).await;
    assert_eq!(event.role, api::auth::role::Role::Grower);
    let digs = format!("{sheet}/dig-checks");
    let dig = Farmstead::dig_body();
    let (first, event) = trail.does(&app.grower, "create_dig_check", &digs, &dig).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), own, "by its recommendation");
    let mut later = dig;
    later["dug_at"] = json!("2027-04-20T11:50:00Z");
    let (second, _) = trail.does(user, "create_dig_check", &digs, &later).await;
    let step = |dig: &Answer, step: &str| {
        let id = dig.json()["adjustment_id"].as_str().expect("an adjustment").to_owned();
        format!("/v1/adjustments/{id}/{step}")
    };
    let reason = json!({"reason": "Rain is coming."});
    let (_, event) =
        trail.does(user, "decline_adjustment", &step(&second, "decline"), &reason).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), own, "by its recommendation");
    let (decided, _) = trail
        .does(user, "accept_adjustment", &step(&first, "accept"), &json!({"issue": true}))
        .await;
    let next = decided.json()["next_recommendation_id"].as_str().expect("an id").to_owned();
    let path = format!("{all}/{next}/revise");
    trail.does(user, "revise_recommendation", &path, &json!({})).await;
}

async fn figures_and_accounts(trail: &mut Trail<'_>, app: &TestApp) {
    let path = "/v1/coefficients/opener_resistance";
    let shipped = app.lead.get(path).await.json();
    let figure = json!({"value": shipped["value"], "low": shipped["low"], "high": shipped["high"],
        "unit": shipped["unit"], "source": "pulled 12 openers with a load cell"});
    let (_, event) = trail.does(&app.advisor, "set_coefficient", path, &figure).await;
    assert_eq!(
        (event.object_kind.as_str(), event.object_id.as_str()),
        ("coefficient", "opener_resistance")
    );
    trail.does(&app.advisor, "reset_coefficient", path, &Value::Null).await;
    let change = json!({"display_name": "Ann, who is private"});
    let (_, event) =
        trail.does(&app.advisor, "update_own_account", "/v1/accounts/me", &change).await;
    assert!(!format!("{event:?}").contains("private"), "names of members, never what they say");
}

#[tokio::test]
async fn what_changes_nothing_or_fails_leaves_no_event() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    let length = events(&app).await.len();
    let name = json!({"name": "Miller Brothers"});
    app.lead.post("/v1/growers", &name).await.assert_problem(409, "already_exists");
    app.lead.patch(&path, "\"99\"", &name).await.assert_problem(412, "stale");
    app.lead.post("/v1/growers", &json!({"name": 7})).await.assert_problem(422, "invalid_request");
    app.stranger.delete(&path).await.assert_problem(404, "not_found");
    app.read_only.delete(&path).await.assert_problem(403, "forbidden");
    app.nobody.delete(&path).await.assert_problem(401, "unauthenticated");
    let reset = "/v1/coefficients/opener_resistance";
    app.lead.delete(reset).await.assert_status(204);
    app.lead
        .send("PATCH", "/v1/accounts/me", &[("if-match", "*")], Some(&json!({})))
        .await
        .assert_status(200);
    assert_eq!(events(&app).await.len(), length);
}
