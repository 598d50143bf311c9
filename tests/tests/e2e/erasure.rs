//! A grower's data is given out, and erased.

use api::auth::role::Role;
use sea_orm::{ConnectionTrait, Statement};
use serde_json::{Value, json};
use tests::{Farmstead, PASSWORD, TestApp};

/// Words that only this grower's data holds.
const SECRET: &[&str] =
    &["Zebulon", "555 0199", "zeb@example.org", "old oak", "Quagga", "-93.12", "G-7711"];

/// A grower with an account, a link, a field with a boundary that was dug in, and one that was not.
async fn known_grower(app: &TestApp) -> Farmstead {
    let lead = &app.lead;
    let grower = json!({"name": "Zebulon & Sons", "phone": "555 0199", "email": "zeb@example.org",
        "notes": "by the old oak"});
    let grower = lead.create("/v1/growers", &grower).await;
    let agreed = json!({"sheets": true});
    lead.put(&format!("/v1/growers/{grower}/mail"), "*", &agreed).await.assert_status(200);
    let stead = Farmstead::of_grower(lead, &grower).await.with_sheet(lead).await;
    let boundary = json!({"type": "Polygon", "coordinates":
        [[[-93.12, 42.0], [-93.12, 42.005], [-93.11, 42.005], [-93.11, 42.0], [-93.12, 42.0]]]});
    let change = json!({"name": "Quagga forty", "boundary": boundary, "notes": "old oak"});
    lead.patch(&format!("/v1/fields/{}", stead.field), "*", &change).await.assert_status(200);
    let named = json!({"name": "Quagga planter"});
    lead.patch(&format!("/v1/planters/{}", stead.planter), "*", &named).await.assert_status(200);
    let named = json!({"name": "Quagga farm"});
    lead.patch(&format!("/v1/farms/{}", stead.farm), "*", &named).await.assert_status(200);
    let mut dig = Farmstead::dig_body();
    dig["notes"] = json!("Zebulon came along.");
    dig["place"] = json!("at the old oak");
    let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    let dug = lead.post(&path, &dig).await.assert_status(201).json();
    let adjustment = dug["adjustment_id"].as_str().expect("an adjustment");
    let decline = json!({"reason": "Zebulon does not want it."});
    let path = format!("/v1/adjustments/{adjustment}/decline");
    lead.send("POST", &path, &[("if-match", "*")], Some(&decline)).await.assert_status(200);
    let later = json!({"until": "2027-04-30", "reason": "Zebulon is away."});
    let path = format!("/v1/attention/dig_failed.{}/snooze", stead.recommendation);
    lead.post(&path, &later).await.assert_status(200);
    let feed = json!({"grower_id": grower, "note": "for Zebulon"});
    lead.post("/v1/calendar-feeds", &feed).await.assert_status(201);
    let undug = json!({"farm_id": stead.farm, "name": "Quagga corner"});
    let undug = lead.create("/v1/fields", &undug).await;
    known_upstream(app, &stead, &undug).await;
    known_trial(app, &stead).await;
    known_shed(app, &stead).await;
    known_stand(app, &stead).await;
    let link = json!({"grower_id": grower, "note": "for Zebulon"});
    lead.post("/v1/access-links", &link).await.assert_status(201);
    stead
}

/// A record that waits since it may be the grower, a field that is tied, and its name in conflict.
async fn known_upstream(app: &TestApp, stead: &Farmstead, field: &str) {
    let records = &app.records_system;
    let grower = json!({"name": "ZEBULON & SONS", "phone": "555 0199"});
    let path = "/v1/external/records/growers/G-7711";
    records.send("PUT", path, &[], Some(&grower)).await.assert_problem(409, "decision_needed");
    let path = "/v1/external/records/fields/F-1";
    let put = async |name: &str| {
        let feature = json!({"type": "Feature", "geometry": null,
            "properties": {"farm_id": stead.farm, "name": name}});
        records.send("PUT", path, &[], Some(&feature)).await
    };
    put("Quagga corner").await.assert_problem(409, "decision_needed");
    let waiting = app.lead.get("/v1/record-matches?kind=field").await.assert_status(200).json();
    let id = waiting["items"][0]["id"].as_str().expect("a record that waits");
    let same = json!({"decision": "same", "object_id": field});
    let decision = format!("/v1/record-matches/{id}/decision");
    app.lead.send("POST", &decision, &[("if-match", "*")], Some(&same)).await.assert_status(200);
    let ours = json!({"name": "Quagga corner, east"});
    app.lead.patch(&format!("/v1/fields/{field}"), "*", &ours).await.assert_status(200);
    put("Quagga corner, west").await.assert_problem(409, "decision_needed");
}

/// A planting, a warm day and a stand count.
async fn known_stand(app: &TestApp, stead: &Farmstead) {
    let lead = &app.lead;
    let planted = json!({"planter_id": stead.planter, "planted_on": "2027-03-20", "crop": "corn",
        "note": "Zebulon drove."});
    lead.create(&format!("/v1/fields/{}/plantings", stead.field), &planted).await;
    let degrees = |value: u32| json!({"value": value, "unit": "[degF]"});
    let warm = json!({"station": "Quagga station", "days":
        [{"date": "2027-04-01", "high": degrees(60), "low": degrees(40)}]});
    let path = format!("/v1/farms/{}/temperatures", stead.farm);
    lead.post(&path, &warm).await.assert_status(200);
    let counted = json!({"counted_on": "2027-04-15", "note": "past the old oak", "count": {
        "kind": "hoop", "diameter": {"value": 30, "unit": "[in_i]"},
        "counts": [{"place": 1, "plants": 4}]
    }});
    lead.create(&format!("/v1/fields/{}/stand-counts", stead.field), &counted).await;
    let harvested = json!({"harvested_on": "2026-10-12", "crop": "corn", "basis": "dry",
        "grain": {"value": 8, "unit": "t/har"}, "note": "Zebulon drove the combine."});
    lead.create(&format!("/v1/fields/{}/yields", stead.field), &harvested).await;
}

/// A planter that was looked at and mended.
async fn known_shed(app: &TestApp, stead: &Farmstead) {
    let path = |what: &str| format!("/v1/planters/{}/{what}", stead.planter);
    let seen = json!({"inspected_on": "2027-03-12", "notes": "Zebulon held the lamp.", "findings":
        [{"item": "seed_tube", "rows": [2], "status": "replace", "notes": "Bent by the old oak."}]});
    app.lead.post(&path("inspections"), &seen).await.assert_status(201);
    let mended = json!({"item": "seed_tube", "rows": [2], "repaired_on": "2027-03-13", "new_part": true,
        "notes": "Zebulon had one in the shed."});
    app.lead.post(&path("repairs"), &mended).await.assert_status(201);
    let manual = json!({"parts": [{"item": "opener_diameter", "source": "Zebulon's copy",
        "replace_at": {"value": 14.4, "unit": "[in_i]"}}]});
    app.lead.put(&path("wear-limits"), "*", &manual).await.assert_status(200);
}

/// A trial that runs, with a plot.
async fn known_trial(app: &TestApp, stead: &Farmstead) {
    let lead = &app.lead;
    let trial = json!({
        "field_id": stead.field, "planter_id": stead.planter, "name": "Zebulon tries wheels",
        "design": {
            "crop": "corn", "trying": "closing_wheel", "question": "Quagga wheels, by the old oak?",
            "treatments": [{"name": "smooth"}, {"name": "spiked"}],
            "way": {"kind": "planter_rows", "rows_each": 1}, "blocks": 4,
            "responses": [{"kind": "emergence"}]
        }
    });
    let trial = lead.create("/v1/trials", &trial).await;
    let path = format!("/v1/trials/{trial}");
    lead.send("POST", &format!("{path}/start"), &[("if-match", "*")], None)
        .await
        .assert_status(200);
    let plot = json!({"plot": 1, "note": "Zebulon looked.", "readings":
        [{"response": "emergence", "values": {"unit": "%", "values": [91]}}]});
    lead.post(&format!("{path}/plots"), &plot).await.assert_status(201);
}

/// Every row of the practice, as text.
async fn whole_database(app: &TestApp) -> String {
    let state = app.state();
    let mut all = String::new();
    for table in [
        "growers",
        "farms",
        "fields",
        "planters",
        "calibrations",
        "conditions_reports",
        "recommendations",
        "dig_checks",
        "adjustments",
        "accounts",
        "access_links",
        "attention_marks",
        "calendar_feeds",
        "jobs",
        "mail_wishes",
        "idempotency_keys",
        "audit_events",
        "grower_erasures",
        "dig_lessons",
        "trials",
        "trial_entries",
        "inspections",
        "repairs",
        "wear_limits",
        "plantings",
        "air_temperatures",
        "stand_counts",
        "yields",
        "external_ids",
        "record_matches",
        "record_conflicts",
        "erased_records",
        "changes",
    ] {
        let columns = match table {
            "growers" => "name, phone, email, notes",
            "farms" => "name",
            "fields" => "name, boundary, notes",
            "planters" => "name, makeup",
            "calibrations" => "notes",
            "conditions_reports" => "observations",
            "recommendations" => "goals, inputs, result",
            "dig_checks" => "observation, result, notices, fingerprint",
            "adjustments" => "proposal, reason",
            "accounts" => "email, display_name",
            "access_links" | "calendar_feeds" => "note",
            "attention_marks" => "snooze_reason, entry_key",
            "jobs" => "payload, last_error, once_key",
            "mail_wishes" => "stop_key",
            "idempotency_keys" => "body, location",
            "audit_events" => "object_id, changed",
            "grower_erasures" => "reason, report",
            "trials" => "name, design",
            "trial_entries" => "content",
            "inspections" | "wear_limits" => "entered",
            "repairs" => "notes",
            "plantings" => "note, entered, notices, need",
            "air_temperatures" => "station",
            "stand_counts" => "observation, result",
            "yields" => "note, entered",
            "external_ids" => "their_id, taken",
            "record_matches" => "their_id, record, candidates",
            "record_conflicts" => "base, theirs",
            "erased_records" => "mark",
            "changes" => "type, object_kind, object_id",
            _ => "event",
        };
        for column in columns.split(", ") {
            let sql = format!("SELECT CAST({column} AS TEXT) FROM {table}");
            let asked = Statement::from_string(state.db.get_database_backend(), sql);
            for row in state.db.query_all_raw(asked).await.expect("rows") {
                let text: Option<String> = row.try_get_by_index(0).expect("text");
                all.push_str(&format!("{table}.{column}: {}\n", text.unwrap_or_default()));
            }
        }
    }
    all
}

fn part<'a>(erasure: &'a Value, kind: &str) -> (&'a Value, &'a Value) {
    let parts = erasure["parts"].as_array().expect("parts");
    let part = parts.iter().find(|part| part["kind"] == kind).expect(kind);
    assert!(part["why"].as_str().is_some_and(|why| why.len() > 10), "{part}");
    (&part["deleted"], &part["kept"])
}

async fn erase(app: &TestApp, grower: &str, etag: &str) -> tests::Answer {
    let reason = json!({"reason": "Asked for by letter."});
    let path = format!("/v1/growers/{grower}/erasure");
    app.lead.send("POST", &path, &[("if-match", etag)], Some(&reason)).await
}

#[tokio::test]
async fn the_export_holds_all_that_is_known() {
    let app = TestApp::start().await;
    let stead = known_grower(&app).await;
    Farmstead::make(&app.lead, "Someone else entirely").await;
    let path = format!("/v1/growers/{}/export", stead.grower);
    let export = app.lead.get(&path).await.assert_status(200);
    assert_eq!(export.header("cache-control"), "no-store");
    for secret in SECRET {
        assert!(export.text.contains(secret), "{secret} is not in it");
    }
    assert!(!export.text.contains("Someone else entirely"));
    let export = export.json();
    for (list, many) in [
        ("farms", 1),
        ("fields", 2),
        ("planters", 1),
        ("calibrations", 1),
        ("conditions", 1),
        ("recommendations", 1),
        ("dig_checks", 1),
        ("adjustments", 1),
        ("lessons", 1),
        ("trials", 1),
        ("inspections", 1),
        ("repairs", 1),
        ("wear_limits", 1),
        ("plantings", 1),
        ("temperatures", 1),
        ("stand_counts", 1),
        ("yields", 1),
        ("external_ids", 1),
        ("record_matches", 1),
        ("record_conflicts", 1),
        ("accounts", 1),
        ("access_links", 1),
        ("attention_marks", 1),
        ("calendar_feeds", 1),
        ("jobs", 1),
    ] {
        assert_eq!(export[list].as_array().expect(list).len(), many, "{list}");
    }
    let field = format!("/v1/fields/{}", stead.field);
    assert_eq!(export["fields"][0], app.lead.get(&field).await.json());
    let sheet = format!("/v1/recommendations/{}", stead.recommendation);
    assert_eq!(export["recommendations"][0], app.lead.get(&sheet).await.json());
    app.advisor.get(&path).await.assert_problem(403, "forbidden");
    app.stranger.get(&path).await.assert_problem(404, "not_found");
    let trail = format!("/v1/audit-events?object_id={}&operation=export_grower", stead.grower);
    let trail = app.lead.get(&trail).await.json();
    assert_eq!(trail["items"].as_array().expect("items").len(), 1, "the export leaves a trace");
}

#[tokio::test]
async fn after_an_erasure_nothing_names_the_grower_and_the_lessons_are_kept() {
    let app = TestApp::start().await;
    let stead = known_grower(&app).await;
    let person = app.someone("zebulon", Role::Grower, Some(&stead.grower)).await;
    let sign_in = json!({"email": "zebulon@example.org", "password": PASSWORD});
    let session = app.nobody.post("/v1/sessions", &sign_in).await.assert_status(201).json();
    let phone = app.nobody.with_token(session["access_token"].as_str().expect("a token"));
    phone.get("/v1/accounts/me").await.assert_status(200);
    let resistance = format!("/v1/planters/{}/resistance", stead.planter);
    let learned = app.lead.get(&resistance).await.json();

    let rows = whole_database(&app).await;
    for secret in SECRET {
        assert!(rows.contains(secret), "{secret} is looked for in the wrong place");
    }

    erase(&app, &stead.grower, "\"7\"").await.assert_problem(412, "stale");
    let answer = erase(&app, &stead.grower, "\"1\"").await.assert_status(200);
    assert_eq!(answer.header("etag"), "\"2\"");
    let erasure = answer.json();
    assert_eq!(erasure["grower_id"], stead.grower);
    assert_eq!(part(&erasure, "fields"), (&json!(1), &json!(1)));
    assert_eq!(part(&erasure, "farms"), (&json!(0), &json!(1)));
    for kind in ["dig_checks", "lessons", "recommendations", "adjustments", "access_links"] {
        assert_eq!(part(&erasure, kind), (&json!(0), &json!(1)), "{kind}");
    }
    for kind in ["attention_marks", "calendar_feeds", "mail_wishes", "jobs"] {
        assert_eq!(part(&erasure, kind), (&json!(1), &json!(0)), "{kind}");
    }
    assert_eq!(part(&erasure, "accounts"), (&json!(0), &json!(2)));
    assert_eq!(part(&erasure, "trials"), (&json!(1), &json!(0)));
    assert_eq!(part(&erasure, "trial_entries"), (&json!(1), &json!(0)));
    for kind in ["inspections", "repairs", "wear_limits"] {
        assert_eq!(part(&erasure, kind), (&json!(1), &json!(0)), "{kind}");
    }
    for kind in ["plantings", "temperatures", "stand_counts", "yields"] {
        assert_eq!(part(&erasure, kind), (&json!(1), &json!(0)), "{kind}");
    }
    for kind in ["external_ids", "record_matches", "record_conflicts"] {
        assert_eq!(part(&erasure, kind), (&json!(1), &json!(0)), "{kind}");
    }
    assert_eq!(part(&erasure, "erased_marks"), (&json!(0), &json!(2)), "hashes of two ids");
    assert_eq!(part(&erasure, "sessions"), (&json!(1), &json!(0)));
    assert_eq!(part(&erasure, "changes").0, &json!(0), "ids stay");

    let rows = whole_database(&app).await;
    for secret in SECRET.iter().chain(&["zebulon"]) {
        let left: Vec<&str> = rows.lines().filter(|row| row.contains(secret)).collect();
        assert!(left.is_empty(), "{secret} is left: {left:?}");
    }
    for user in [&person, &phone] {
        user.get("/v1/accounts/me").await.assert_problem(401, "unauthenticated");
    }
    app.nobody.post("/v1/sessions", &sign_in).await.assert_problem(401, "wrong_credentials");
    let after = app.lead.get(&resistance).await.assert_status(200).json();
    assert_eq!(after["classes"][0]["resistance"], learned["classes"][0]["resistance"]);
    let trail = format!("/v1/audit-events?object_id={}&operation=erase_grower", stead.grower);
    let trail = app.lead.get(&trail).await.json();
    assert_eq!(trail["items"].as_array().expect("items").len(), 1);
    // What is kept can still be read.
    let export = format!("/v1/growers/{}/export", stead.grower);
    let export = app.lead.get(&export).await.assert_status(200).json();
    assert_eq!(export["dig_checks"].as_array().expect("digs").len(), 1);
}

#[tokio::test]
async fn an_erasure_done_again_finds_nothing_more_to_delete() {
    let app = TestApp::start().await;
    let stead = known_grower(&app).await;
    erase(&app, &stead.grower, "*").await.assert_status(200);
    let again = erase(&app, &stead.grower, "*").await.assert_status(200).json();
    for part in again["parts"].as_array().expect("parts") {
        assert_eq!(part["deleted"], 0, "{part}");
    }
    assert_eq!(part(&again, "dig_checks"), (&json!(0), &json!(1)));
}

#[tokio::test]
async fn of_a_grower_for_whom_nobody_dug_only_an_empty_entry_stays() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Undug").await;
    let other = Farmstead::make(&app.lead, "Other").await;
    let erasure = erase(&app, &stead.grower, "*").await.assert_status(200).json();
    for (kind, deleted) in [
        ("farms", 1),
        ("fields", 1),
        ("planters", 1),
        ("calibrations", 1),
        ("conditions_reports", 1),
        ("recommendations", 1),
    ] {
        assert_eq!(part(&erasure, kind), (&json!(deleted), &json!(0)), "{kind}");
    }
    let path = format!("/v1/farms?grower_id={}", stead.grower);
    assert_eq!(app.lead.get(&path).await.json()["items"], json!([]));
    let grower = app.lead.get(&format!("/v1/growers/{}", stead.grower)).await.json();
    assert_eq!(grower["name"], format!("Erased grower {}", stead.grower));
    app.lead.get(&format!("/v1/recommendations/{}", other.recommendation)).await.assert_status(200);
    let (path, empty) = (format!("/v1/growers/{}/erasure", other.grower), json!({"reason": " "}));
    let refused = app.lead.send("POST", &path, &[("if-match", "*")], Some(&empty)).await;
    refused.assert_problem(422, "invalid_request").assert_member("/reason");
}
