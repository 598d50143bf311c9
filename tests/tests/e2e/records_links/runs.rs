//! Runs: what they take, what they leave, and that there is one at a time.

use std::sync::Arc;

use api::auth::role::Role;
use api::exchange::pull::runs::{LEASE, MOST_ATTEMPTS, work_off};
use chrono::TimeDelta;
use sea_orm::{ConnectionTrait, Statement};
use serde_json::json;
use tests::TestApp;

use super::land::{Land, field, link_to, ring, system_of};
use super::{Link, counts, how_many};

#[tokio::test]
async fn a_preview_says_what_an_apply_does_and_stores_nothing() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(10)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let preview = link.run(&app, json!({"mode": "preview"})).await;
    for (kind, records, created) in [("grower", 2, 1), ("farm", 2, 2), ("field", 10, 10)] {
        let counts = counts(&preview, kind);
        assert_eq!((&counts["records"], &counts["created"]), (&json!(records), &json!(created)));
    }
    assert_eq!(preview["run"]["pages"], 5);
    assert_eq!(preview["rows"].as_array().expect("rows").len(), 13);
    assert_eq!((how_many(&app, "/v1/growers").await, how_many(&app, "/v1/fields").await), (1, 0));
    let applied = link.apply(&app).await;
    assert_eq!(applied["run"]["counts"], preview["run"]["counts"]);
    assert_eq!((how_many(&app, "/v1/growers").await, how_many(&app, "/v1/fields").await), (2, 10));
    let made = applied["rows"].as_array().expect("rows");
    let made = made.iter().find(|row| row["their_id"] == "field-3").expect("a field");
    let id = made["object_id"].as_str().expect("an id");
    let field = app.lead.get(&format!("/v1/fields/{id}")).await.assert_status(200).json();
    assert_eq!((&field["name"], &field["area"]["value"]), (&json!("Field 3"), &json!(39.5)));
    let again = link.apply(&app).await;
    assert_eq!(counts(&again, "field")["unchanged"], 10);
    assert_eq!(again["rows"], json!([]));
    assert_eq!(how_many(&app, "/v1/fields").await, 10);
    system.stop().await;
}

#[tokio::test]
async fn their_changes_come_and_nothing_is_deleted() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(6)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    link.apply(&app).await;
    {
        let mut land = land.lock().expect("a lock");
        land.fields[1]["label"] = json!("Renamed");
        land.fields[2]["shape"]["coordinates"] = json!([ring(50)]);
        land.fields.remove(4);
        land.fields.push(field(7));
    }
    let preview = link.run(&app, json!({"mode": "preview"})).await;
    let run = link.apply(&app).await;
    for run in [&preview, &run] {
        let fields = counts(run, "field");
        assert_eq!((&fields["created"], &fields["changed"]), (&json!(1), &json!(2)), "{run}");
        assert_eq!((&fields["unchanged"], &fields["missing"]), (&json!(3), &json!(1)));
        assert!(run["notes"].to_string().contains("field-4"), "{run}");
    }
    assert_eq!(how_many(&app, "/v1/fields").await, 7, "the one that is missing stays");
    let names = app.lead.get("/v1/fields?limit=200").await.text;
    assert!(names.contains("Renamed") && names.contains("Field 4"));
    system.stop().await;
}

#[tokio::test]
async fn what_both_sides_changed_waits_for_a_person() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(2)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let run = link.apply(&app).await;
    let rows = run["rows"].as_array().expect("rows");
    let made = rows.iter().find(|row| row["their_id"] == "field-1").expect("a field");
    let path = format!("/v1/fields/{}", made["object_id"].as_str().expect("an id"));
    app.lead.patch(&path, "*", &json!({"name": "Ours"})).await.assert_status(200);
    land.lock().expect("a lock").fields[1]["label"] = json!("Theirs");
    let run = link.apply(&app).await;
    assert_eq!(counts(&run, "field")["conflicts"], 1, "{run}");
    let dispute = &run["rows"][0]["conflicts"][0];
    assert_eq!((&dispute["ours"], &dispute["theirs"]), (&json!("Ours"), &json!("Theirs")));
    assert_eq!(app.lead.get(&path).await.json()["name"], "Ours");
    system.stop().await;
}

#[tokio::test]
async fn versions_of_pages_spare_a_second_fetch() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land { versions: true, ..Land::with(10) }).await;
    let mut body = link_to(&system);
    body["changes"] = json!({"kind": "etag"});
    let link = Link::make(&app.lead, &body).await;
    link.apply(&app).await;
    system.take();
    let run = link.apply(&app).await;
    let fields = counts(&run, "field");
    assert_eq!((&fields["not_modified"], &fields["records"]), (&json!(true), &json!(0)), "{run}");
    assert_eq!(fields["missing"], 0);
    let asked = system.take();
    assert_eq!(asked.len(), 5);
    assert!(asked.iter().all(|asked| !asked.header("if-none-match").is_empty()));
    // One page is another: all of that resource is fetched, and what is gone is seen.
    {
        let mut land = land.lock().expect("a lock");
        land.fields[9]["label"] = json!("Last");
        land.fields.remove(0);
    }
    let run = link.apply(&app).await;
    let fields = counts(&run, "field");
    assert_eq!((&fields["changed"], &fields["missing"]), (&json!(1), &json!(1)), "{run}");
    assert_eq!(counts(&run, "farm")["not_modified"], true);
    // A changed profile, or the wish for everything, fetches all.
    let everything = json!({"mode": "apply", "everything": true});
    assert_eq!(counts(&link.run(&app, everything).await, "farm")["records"], 2);
    assert_eq!(counts(&link.apply(&app).await, "farm")["not_modified"], true);
    body["resources"]["farms"]["version"] = json!("/rev");
    link.change(&json!({"resources": body["resources"]})).await;
    assert_eq!(counts(&link.apply(&app).await, "farm")["not_modified"], false);
    system.stop().await;
}

#[tokio::test]
async fn what_was_refused_is_judged_again_although_the_page_is_as_it_was() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land { versions: true, ..Land::with(2) }).await;
    land.lock().expect("a lock").fields[0]["size"] = json!("forty");
    let mut body = link_to(&system);
    body["changes"] = json!({"kind": "etag"});
    let link = Link::make(&app.lead, &body).await;
    for _ in 0..2 {
        let run = link.apply(&app).await;
        assert_eq!(counts(&run, "field")["refused"], 1, "{run}");
        assert_eq!(run["rows"][0]["refused"][0]["pointer"], "fields, page 1, /data/0/size");
    }
    system.stop().await;
}

#[tokio::test]
async fn a_time_asks_for_what_changed_since() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(3)).await;
    let mut body = link_to(&system);
    body["changes"] = json!({"kind": "since", "parameter": "since", "overlap_minutes": 15});
    let link = Link::make(&app.lead, &body).await;
    link.apply(&app).await;
    assert!(system.take().iter().all(|asked| !asked.query.contains_key("since")));
    app.clock.advance(TimeDelta::hours(1));
    land.lock().expect("a lock").fields.truncate(1);
    let run = link.apply(&app).await;
    let asked = system.take();
    assert!(asked.iter().all(|asked| asked.query["since"] == "2027-04-20T11:45:00Z"), "{asked:?}");
    assert_eq!(counts(&run, "field")["missing"], 0, "what was not asked for is not missing");
    let run = link.run(&app, json!({"mode": "apply", "everything": true})).await;
    assert_eq!(counts(&run, "field")["missing"], 2);
    system.stop().await;
}

#[tokio::test]
async fn of_a_link_one_run_is_not_finished() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(1)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let path = format!("{}/runs", link.path());
    let body = json!({"mode": "preview"});
    let first = app.lead.post(&path, &body).await.assert_status(202).id();
    app.lead.post(&path, &body).await.assert_problem(409, "wrong_state");
    work_off(app.state()).await.expect("worked off");
    let second = app.lead.post(&path, &body).await.assert_status(202).id();
    let list = app.lead.get(&path).await.assert_status(200).json();
    let ids: Vec<&str> = list["items"]
        .as_array()
        .expect("items")
        .iter()
        .map(|run| run["id"].as_str().expect("an id"))
        .collect();
    assert_eq!(ids, [first, second]);
    let nobody = format!("{path}/01964f1e-6a00-7000-8000-000000000009");
    app.lead.get(&nobody).await.assert_problem(404, "not_found");
    app.lead.get(&format!("{path}/x")).await.assert_problem(404, "not_found");
    system.stop().await;
}

/// Whoever works at the queue, as processes do: each run is done by one of them.
#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn no_two_workers_do_one_run() {
    let app = Arc::new(TestApp::start().await);
    let (system, _land) = system_of(Land::with(4)).await;
    for number in 0..6 {
        let mut body = link_to(&system);
        body["name"] = json!(format!("Land {number}"));
        let link = Link::make(&app.lead, &body).await;
        let path = format!("{}/runs", link.path());
        app.lead.post(&path, &json!({"mode": "preview"})).await.assert_status(202);
    }
    let workers: Vec<_> = (0..4)
        .map(|_| {
            let app = app.clone();
            tokio::spawn(async move { work_off(app.state()).await.expect("worked off") })
        })
        .collect();
    let mut done = 0;
    for worker in workers {
        done += worker.await.expect("no panic");
    }
    assert_eq!(done, 6);
    assert_eq!(system.take().len(), 6 * 3, "each page of each link once");
    system.stop().await;
}

async fn begun_elsewhere(app: &TestApp) {
    let lost = format!(
        "UPDATE records_runs SET status = 'running', attempts = attempts + 1, lease = {}, due_at = due_at",
        if app.state().db.get_database_backend() == sea_orm::DbBackend::Sqlite {
            "x'00000000000000000000000000000009'"
        } else {
            "'00000000-0000-0000-0000-000000000009'"
        }
    );
    let db = &app.state().db;
    db.execute_raw(Statement::from_string(db.get_database_backend(), lost)).await.expect("lost");
}

#[tokio::test]
async fn a_run_whose_process_died_is_begun_anew_and_given_up_in_the_end() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(2)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let path = format!("{}/runs", link.path());
    let run = app.lead.post(&path, &json!({"mode": "apply"})).await.assert_status(202).id();
    begun_elsewhere(&app).await;
    app.clock.advance(LEASE);
    assert_eq!(work_off(app.state()).await.expect("worked off"), 1);
    assert_eq!(counts(&link.read(&run).await, "field")["created"], 2);

    let run = app.lead.post(&path, &json!({"mode": "apply"})).await.assert_status(202).id();
    for _ in 0..=MOST_ATTEMPTS {
        begun_elsewhere(&app).await;
    }
    work_off(app.state()).await.expect("worked off");
    assert_eq!(link.read(&run).await["stopped"]["code"], "fault");
    system.stop().await;
}

#[tokio::test]
async fn a_link_goes_by_itself_when_its_time_has_come() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(2)).await;
    let mut body = link_to(&system);
    body["run_every_hours"] = json!(6);
    let link = Link::make(&app.records_system, &body).await;
    assert_eq!(work_off(app.state()).await.expect("worked off"), 0);
    app.clock.advance(TimeDelta::hours(6));
    assert_eq!(work_off(app.state()).await.expect("worked off"), 1);
    assert_eq!(work_off(app.state()).await.expect("worked off"), 0, "once");
    assert_eq!(how_many(&app, "/v1/fields").await, 2);
    let read = app.lead.get(&link.path()).await.json();
    assert_eq!(read["next_run_at"], "2027-04-21T00:00:00Z");
    app.clock.advance(TimeDelta::hours(6));
    let runs = app.signed_in_now(&app.lead, Role::Lead);
    assert_eq!(work_off(app.state()).await.expect("worked off"), 1);
    let list = runs.get(&format!("{}/runs", link.path())).await.assert_status(200).json();
    assert_eq!(list["items"].as_array().expect("items").len(), 2);
    assert_eq!(list["items"][0]["asked_by"], app.records_system.account_id);
    system.stop().await;
}

#[tokio::test]
async fn an_account_that_is_shut_out_fetches_nothing() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(2)).await;
    let client =
        json!({"name": "Program", "role": "records_system", "scopes": ["read", "connect"]});
    let client = app.lead.post("/v1/machine-clients", &client).await.assert_status(201).json();
    let link = Link::make(&app.records_system, &link_to(&system)).await;
    let path = format!("{}/runs", link.path());
    let run =
        app.records_system.post(&path, &json!({"mode": "apply"})).await.assert_status(202).id();
    let account = format!("/v1/accounts/{}", app.records_system.account_id);
    app.lead.patch(&account, "*", &json!({"disabled": true})).await.assert_status(200);
    work_off(app.state()).await.expect("worked off");
    let path = format!("{path}/{run}");
    let run = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!(run["stopped"]["code"], "link_changed");
    assert!(system.take().is_empty() && client["client"]["id"].is_string());
    system.stop().await;
}

/// The workers of the service itself: nobody works the queue off by hand.
#[tokio::test]
async fn a_running_service_does_it_by_itself() {
    let app = TestApp::start_with(|settings| settings.job_seconds = 1).await;
    let (system, _land) = system_of(Land::with(3)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let path = format!("{}/runs", link.path());
    let run = app.lead.post(&path, &json!({"mode": "apply"})).await.assert_status(202).id();
    let mut read = link.read(&run).await;
    for _ in 0..200 {
        if read["run"]["status"] == "done" {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        read = link.read(&run).await;
    }
    assert_eq!(counts(&read, "field")["created"], 3);
    system.stop().await;
    app.stop().await;
}

#[tokio::test]
async fn a_link_that_is_deleted_takes_its_runs_along() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(2)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    link.apply(&app).await;
    let path = format!("{}/runs", link.path());
    app.lead.post(&path, &json!({"mode": "apply"})).await.assert_status(202);
    app.lead.delete(&link.path()).await.assert_status(204);
    assert_eq!(work_off(app.state()).await.expect("worked off"), 0);
    assert_eq!(how_many(&app, "/v1/fields").await, 2, "what was taken stays");
    // Made again, the link knows the fields by their ids.
    let link = Link::make(&app.lead, &link_to(&system)).await;
    assert_eq!(counts(&link.apply(&app).await, "field")["unchanged"], 2);
    system.stop().await;
}

#[tokio::test]
async fn an_erasure_empties_what_is_kept_of_runs() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(2)).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let run = link.apply(&app).await;
    let rows = run["rows"].as_array().expect("rows");
    let grower = rows.iter().find(|row| row["kind"] == "grower").expect("a grower");
    let grower = grower["object_id"].as_str().expect("an id");
    let (erase, reason) =
        (format!("/v1/growers/{grower}/erasure"), json!({"reason": "Asked for it."}));
    app.lead.send("POST", &erase, &[("if-match", "*")], Some(&reason)).await.assert_status(200);
    let run = link.read(run["run"]["id"].as_str().expect("an id")).await;
    assert_eq!(run["rows"], json!([]));
    assert_eq!(counts(&run, "field")["created"], 2, "numbers stay");
    system.stop().await;
}

/// JSON may hold a NUL; what is kept of a run must be storable all the same.
#[tokio::test]
async fn a_record_with_a_nul_in_it_is_refused_and_the_run_ends_like_any_other() {
    let app = TestApp::start().await;
    let mut land = Land::with(3);
    land.fields[0]["uid"] = json!("field\u{0}0");
    land.fields[1]["label"] = json!("Field\u{0}1");
    land.fields[2]["size"] = json!("39\u{0}5");
    let (system, _land) = system_of(land).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    for mode in ["preview", "apply"] {
        let run = link.run(&app, json!({"mode": mode})).await;
        let fields = counts(&run, "field");
        assert_eq!((&fields["records"], &fields["refused"]), (&json!(3), &json!(3)), "{run}");
    }
    system.stop().await;
}
