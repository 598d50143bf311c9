//! What of records systems stands on the attention list: when it comes, for whom, when it goes.

use api::auth::role::Role;
use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

use super::gone::listed;
use super::{at, decide, feature, g1, id_of, only, put, square, upstream};

const CONFLICTS: &str = "/v1/record-conflicts";
const MATCHES: &str = "/v1/record-matches";

/// The entries of a kind that somebody sees.
async fn of_kind(user: &User, kind: &str) -> Vec<Value> {
    let path = format!("/v1/attention?kind={kind}");
    let page = user.get(&path).await.assert_status(200).json();
    let items = page["items"].as_array().expect("items").clone();
    for entry in &items {
        assert_eq!(entry["kind"], kind);
        let reason = entry["reason"].as_str().expect("a reason");
        assert!(reason.ends_with('.') && reason.len() > 20, "{reason}");
    }
    items
}

async fn one(user: &User, kind: &str) -> Value {
    let mut items = of_kind(user, kind).await;
    assert_eq!(items.len(), 1, "{items:?}");
    items.remove(0)
}

fn reason(entry: &Value) -> &str {
    entry["reason"].as_str().expect("a reason")
}

/// Who has nothing to do with it sees nothing of it.
async fn hidden(app: &TestApp, kind: &str) {
    for user in [&app.grower, &app.read_only, &app.stranger] {
        assert_eq!(of_kind(user, kind).await, [] as [Value; 0]);
    }
}

/// From now on an advisor sees his own growers only.
async fn only_own(app: &TestApp) {
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
}

async fn advise(app: &TestApp, grower: &str) {
    let own = json!({"advisor_id": app.advisor.account_id});
    app.lead.patch(&format!("/v1/growers/{grower}"), "*", &own).await.assert_status(200);
}

fn named(name: &str, west: f64) -> Value {
    feature(&square(west, 42.1), &json!({"farm": "A-1", "name": name}))
}

#[tokio::test]
async fn a_conflict_is_on_the_list_until_it_is_decided() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    let field = put(&app, "fields/F-1", &named("North", -93.7)).await.assert_status(201).json();
    let path = format!("/v1/fields/{}", id_of(&field["field"]));
    app.lead.patch(&path, "*", &json!({"name": "Ours"})).await.assert_status(200);
    assert!(of_kind(&app.lead, "records_differ").await.is_empty());
    put(&app, "fields/F-1", &named("Theirs", -93.7)).await.assert_problem(409, "decision_needed");

    let entry = one(&app.lead, "records_differ").await;
    let conflict = only(&app, CONFLICTS).await;
    let id = conflict["id"].as_str().expect("an id");
    assert_eq!(entry["object_path"], format!("{CONFLICTS}/{id}"));
    assert_eq!(
        (&entry["object_kind"], &entry["object_id"]),
        (&json!("record_conflict"), &json!(id))
    );
    assert_eq!((&entry["grower"]["id"], &entry["field"]["name"]), (&json!(grower), &json!("Ours")));
    assert_eq!(entry["urgency"], "when_you_can", "a name");
    assert!(reason(&entry).starts_with("Changed here and in records too: name of field F-1."));
    for user in [&app.advisor, &app.records_system] {
        assert_eq!(one(user, "records_differ").await["key"], entry["key"]);
    }
    hidden(&app, "records_differ").await;

    // The boundary too: one entry, which is more urgent.
    let ours = json!({"boundary": g1()});
    app.lead.patch(&path, "*", &ours).await.assert_status(200);
    put(&app, "fields/F-1", &named("Theirs", -93.8)).await.assert_problem(409, "decision_needed");
    let both = one(&app.lead, "records_differ").await;
    assert_eq!((&both["key"], &both["urgency"]), (&entry["key"], &json!("soon")));
    assert!(reason(&both).contains("name and boundary of field F-1"), "{both}");

    let conflicts = app.lead.get(CONFLICTS).await.json();
    for conflict in conflicts["items"].as_array().expect("conflicts") {
        assert_eq!(of_kind(&app.lead, "records_differ").await.len(), 1);
        let keep = json!({"keep": "ours"});
        decide(&app, CONFLICTS, conflict, &keep).await.assert_status(200);
    }
    assert!(of_kind(&app.lead, "records_differ").await.is_empty());
}

#[tokio::test]
async fn a_conflict_is_put_off_and_given_away_and_comes_back_when_they_say_something_else() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    let field = put(&app, "fields/F-1", &named("North", -93.7)).await.assert_status(201).json();
    let path = format!("/v1/fields/{}", id_of(&field["field"]));
    app.lead.patch(&path, "*", &json!({"name": "Ours"})).await.assert_status(200);
    put(&app, "fields/F-1", &named("Theirs", -93.7)).await.assert_problem(409, "decision_needed");
    let key = one(&app.advisor, "records_differ").await["key"].as_str().expect("a key").to_owned();
    let later = json!({"until": "2027-05-01", "reason": "The owner is asked."});
    let snooze = format!("/v1/attention/{key}/snooze");
    app.records_system.post(&snooze, &later).await.assert_problem(403, "forbidden");
    app.advisor.post(&snooze, &later).await.assert_status(200);
    assert!(of_kind(&app.lead, "records_differ").await.is_empty());
    app.clock.advance(TimeDelta::minutes(1));
    put(&app, "fields/F-1", &named("Theirs", -93.7)).await.assert_problem(409, "decision_needed");
    assert!(of_kind(&app.lead, "records_differ").await.is_empty(), "the same is no news");
    put(&app, "fields/F-1", &named("Anew", -93.7)).await.assert_problem(409, "decision_needed");
    assert_eq!(one(&app.lead, "records_differ").await["snooze"]["in_force"], false);

    let assign = format!("/v1/attention/{key}/assign");
    let to = json!({"account_id": app.advisor.account_id});
    app.lead.post(&assign, &to).await.assert_status(200);
    let mine = app.advisor.get("/v1/attention?mine=true").await.json();
    assert_eq!(mine["items"][0]["key"], key, "{mine}");
    // Whoever does not see the grower sees nothing of it, and can't be given it.
    only_own(&app).await;
    assert!(of_kind(&app.advisor, "records_differ").await.is_empty());
    app.advisor.post(&snooze, &later).await.assert_problem(404, "not_found");
    let refused = app.lead.post(&assign, &to).await.assert_problem(422, "invalid_request");
    refused.assert_member("/account_id");
    advise(&app, &grower).await;
    one(&app.advisor, "records_differ").await;
}

#[tokio::test]
async fn records_that_wait_are_one_entry_a_grower() {
    let app = TestApp::start().await;
    let (grower, farm) = upstream(&app).await;
    let land = square(-93.7, 42.1);
    let ours = json!({"farm_id": farm, "name": "Ours", "boundary": land});
    app.lead.create("/v1/fields", &ours).await;
    let same = feature(&land, &json!({"farm": "A-1", "name": "Theirs"}));
    put(&app, "fields/F-1", &same).await.assert_problem(409, "decision_needed");
    let planter = json!({"grower": "G-1", "name": "The eight", "rows": 8,
        "row_spacing": {"value": 30, "unit": "[in_i]"}});
    app.clock.advance(TimeDelta::minutes(1));
    put(&app, "planters/P-1", &planter).await.assert_problem(409, "decision_needed");

    let entry = one(&app.lead, "records_wait").await;
    assert_eq!(entry["key"], format!("records_wait.{grower}"));
    assert_eq!((&entry["grower"]["id"], &entry["urgency"]), (&json!(grower), &json!("soon")));
    assert_eq!(
        reason(&entry),
        "Records that wait: 1 field of which nobody has said what they are; 1 planter without \
         make-up. The first has waited for less than an hour."
    );
    let waiting = app.lead.get(&format!("{MATCHES}?kind=field")).await.json();
    assert_eq!(entry["object_id"], waiting["items"][0]["id"], "the one that has waited longest");
    hidden(&app, "records_wait").await;
    one(&app.advisor, "records_wait").await;
    only_own(&app).await;
    assert!(of_kind(&app.advisor, "records_wait").await.is_empty());
    advise(&app, &grower).await;
    one(&app.advisor, "records_wait").await;

    let new = json!({"decision": "new"});
    decide(&app, MATCHES, &waiting["items"][0], &new).await.assert_status(200);
    let entry = one(&app.lead, "records_wait").await;
    assert!(reason(&entry).starts_with("Records that wait: 1 planter without make-up."));
    let waiting = only(&app, MATCHES).await;
    let makeup = Farmstead::planter_body(&grower)["makeup"].clone();
    let new = json!({"decision": "new", "makeup": makeup});
    decide(&app, MATCHES, &waiting, &new).await.assert_status(200);
    assert!(of_kind(&app.lead, "records_wait").await.is_empty());
}

#[tokio::test]
async fn what_belongs_to_a_record_that_waits_needs_nobody_yet() {
    let app = TestApp::start().await;
    put(&app, "growers/G-1", &json!({"name": "miller brothers"}))
        .await
        .assert_problem(409, "decision_needed");
    put(&app, "farms/A-1", &json!({"grower": "G-1", "name": "River"}))
        .await
        .assert_problem(409, "decision_needed");
    let entry = one(&app.lead, "records_wait").await;
    assert!(reason(&entry).starts_with("Records that wait: 1 grower of which"), "{entry}");
    assert_eq!(entry["grower"]["id"], app.own_grower_id, "he may be that one");
    let waiting = only(&app, &format!("{MATCHES}?waits_for=decision")).await;
    decide(&app, MATCHES, &waiting, &json!({"decision": "new"})).await.assert_status(200);
    assert!(of_kind(&app.lead, "records_wait").await.is_empty(), "the farm followed");
}

#[tokio::test]
async fn records_of_nobody_known_are_for_whoever_sees_all_growers() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    let path = format!("/v1/growers/{grower}/erasure");
    let reason_given = json!({"reason": "Asked for by letter."});
    app.lead
        .send("POST", &path, &[("if-match", "*")], Some(&reason_given))
        .await
        .assert_status(200);
    assert!(of_kind(&app.lead, "records_wait").await.is_empty());
    put(&app, "growers/G-1", &json!({"name": "Prairie Partners"}))
        .await
        .assert_problem(409, "decision_needed");
    let entry = one(&app.advisor, "records_wait").await;
    assert!(reason(&entry).contains("1 grower erased here and sent again"), "{entry}");
    assert!(entry.get("grower").is_none(), "{entry}");
    let key = entry["key"].as_str().expect("a key");
    let assign = format!("/v1/attention/{key}/assign");
    let to = json!({"account_id": app.advisor.account_id});
    app.advisor.post(&assign, &to).await.assert_status(200);
    only_own(&app).await;
    assert!(of_kind(&app.advisor, "records_wait").await.is_empty());
    let refused = app.lead.post(&assign, &to).await.assert_problem(422, "invalid_request");
    refused.assert_member("/account_id");
    hidden(&app, "records_wait").await;
}

#[tokio::test]
async fn what_is_no_longer_listed_is_told_until_it_is_settled() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    for number in 2..=6 {
        let farm = json!({"grower": "G-1", "name": format!("Farm {number}")});
        put(&app, &format!("farms/A-{number}"), &farm).await.assert_status(201);
    }
    assert!(of_kind(&app.lead, "records_gone").await.is_empty());
    assert_eq!(listed(&app, &["A-1"]).await, 5);
    let entry = one(&app.lead, "records_gone").await;
    assert_eq!(entry["object_path"], format!("/v1/growers/{grower}"));
    assert_eq!(entry["urgency"], "when_you_can");
    assert_eq!(
        reason(&entry),
        "5 records no longer listed, since 20 April: farm A-2 of records, farm A-3 of records, \
         farm A-4 of records and 2 more."
    );
    hidden(&app, "records_gone").await;
    one(&app.advisor, "records_gone").await;
    only_own(&app).await;
    assert!(of_kind(&app.advisor, "records_gone").await.is_empty());
    advise(&app, &grower).await;
    one(&app.advisor, "records_gone").await;

    // Put off; what goes later is news.
    let key = entry["key"].as_str().expect("a key");
    let later = json!({"until": "2027-06-01", "reason": "They move house."});
    app.lead.post(&format!("/v1/attention/{key}/snooze"), &later).await.assert_status(200);
    assert!(of_kind(&app.lead, "records_gone").await.is_empty());
    app.clock.advance(TimeDelta::minutes(1));
    assert_eq!(listed(&app, &["A-0"]).await, 1);
    assert!(reason(&one(&app.lead, "records_gone").await).starts_with("6 records"));

    app.lead.delete(&format!("/v1/attention/{key}/snooze")).await.assert_status(204);
    // Seen again, deleted here too, or no longer tied.
    put(&app, "farms/A-1", &json!({"grower": "G-1", "name": "Home"})).await.assert_status(200);
    put(&app, "farms/A-2", &json!({"grower": "G-1", "name": "Farm 2"})).await.assert_status(200);
    for gone in ["A-3", "A-4"] {
        let farm = app.lead.get(&at(&format!("farms/{gone}"))).await.json();
        let path = format!("/v1/farms/{}", id_of(&farm["farm"]));
        app.lead.send("DELETE", &path, &[("if-match", "*")], None).await.assert_status(204);
    }
    let entry = one(&app.lead, "records_gone").await;
    assert!(reason(&entry).ends_with(": farm A-5 of records and farm A-6 of records."), "{entry}");
    for untied in ["A-5", "A-6"] {
        app.records_system.delete(&at(&format!("farms/{untied}"))).await.assert_status(204);
    }
    assert!(of_kind(&app.lead, "records_gone").await.is_empty());
}

#[tokio::test]
async fn no_calendar_shows_what_is_due_on_no_day() {
    let app = TestApp::start().await;
    upstream(&app).await;
    put(&app, "farms/A-2", &json!({"grower": "G-1", "name": "River"})).await.assert_status(201);
    assert_eq!(listed(&app, &["A-1"]).await, 1);
    one(&app.lead, "records_gone").await;
    let made = app.lead.post("/v1/calendar-feeds", &json!({})).await.assert_status(201).json();
    let url = made["url"].as_str().expect("an address");
    let path = url.find("/calendar/").and_then(|at| url.get(at..)).expect("a path");
    let feed = app.nobody.get(path).await.assert_status(200).text;
    assert!(feed.starts_with("BEGIN:VCALENDAR") && !feed.contains("records_gone"), "{feed}");
    let narrowed = app.narrowed(&app.lead, Role::Lead, "read");
    one(&narrowed, "records_gone").await;
}
