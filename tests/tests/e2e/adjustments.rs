//! Adjustments: from the dig to the next revision.

use api::entities::{adjustments, recommendations};
use sea_orm::{ConnectionTrait, DbBackend, EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp, User};

/// A dug sheet of the grower: the adjustment waits.
async fn dug(app: &TestApp) -> Farmstead {
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    stead.with_sheet(&app.lead).await.with_dig(&app.grower).await
}

fn path(id: &str) -> String {
    format!("/v1/adjustments/{id}")
}

async fn decide(user: &User, id: &str, step: &str, etag: &str, body: Option<Value>) -> Answer {
    let path = format!("{}/{step}", path(id));
    user.send("POST", &path, &[("if-match", etag)], body.as_ref()).await
}

async fn sheet(app: &TestApp, id: &Value) -> Value {
    let path = format!("/v1/recommendations/{}", id.as_str().expect("an id"));
    app.lead.get(&path).await.assert_status(200).json()
}

async fn sheets_stored(app: &TestApp) -> u64 {
    recommendations::Entity::find().count(&app.state().db).await.expect("a count")
}

/// Rows with these readings each, on five rows.
fn signs(stead_row: &Value) -> Value {
    let row = |number: u16| {
        let mut row = stead_row.clone();
        row["row"] = json!(number);
        row
    };
    json!({"dug_at": "2027-04-20T11:45:00Z", "rows": [row(2), row(3), row(5), row(6), row(7)]})
}

async fn dig_with(app: &TestApp, stead: &Farmstead, row: &Value) -> Value {
    let digs = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    app.grower.post(&digs, &signs(row)).await.assert_status(201).json()
}

#[tokio::test]
async fn the_loop_from_a_draft_to_the_next_revision() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let before = sheet(&app, &json!(stead.recommendation)).await;
    let read = app.advisor.get(&path(&stead.adjustment)).await.assert_status(200);
    let proposed = read.json();
    assert_eq!(proposed["status"], "proposed");
    assert_eq!(proposed["dig_check_id"], stead.dig_check.as_str());
    let dig = format!("/v1/dig-checks/{}", stead.dig_check);
    assert_eq!(proposed["proposal"], app.advisor.get(&dig).await.json()["proposal"]);

    let etag = read.header("etag");
    let accepted = decide(&app.advisor, &stead.adjustment, "accept", etag, None).await;
    let accepted = accepted.assert_status(200).json();
    assert_eq!((&accepted["status"], &accepted["version"]), (&json!("accepted"), &json!(2)));
    assert_eq!(accepted["decided_by"], app.advisor.account_id.as_str());
    let next = sheet(&app, &accepted["next_recommendation_id"]).await;
    assert_eq!((&next["status"], &next["revision"]), (&json!("draft"), &json!(2)));
    assert_eq!(next["replaces_id"], stead.recommendation.as_str());
    for same in ["series_id", "field_id", "planter_id", "conditions_id", "calibration_id"] {
        assert_eq!(next[same], before[same], "{same}");
    }
    let to = &proposed["proposal"]["change"]["to"];
    let set = &next["settings"]["down_force"];
    assert_eq!(&set["per_row"], to, "the change is on the sheet");
    assert_eq!(set["set_on_planter"], proposed["proposal"]["change"]["set_on_planter"]);
    for same in ["depth", "speed", "closing", "coulter", "row_cleaner"] {
        assert_eq!(next["settings"][same]["value"], before["settings"][same]["value"], "{same}");
    }
    assert_eq!(sheet(&app, &json!(stead.recommendation)).await, before, "it counts until then");

    // Issued, dug, found right: the loop ends.
    let next = Farmstead {
        recommendation: accepted["next_recommendation_id"].as_str().expect("id").to_owned(),
        ..stead
    };
    next.issue(&app.lead).await;
    let good = json!({
        "seed_depths": {"unit": "[in_i]", "values": [2.0, 1.95, 2.05]}, "gauge_wheels": "turn_with_effort"
    });
    let judged = dig_with(&app, &next, &good).await;
    assert_eq!(judged["proposal"]["change"]["kind"], "keep_as_is");
}

#[tokio::test]
async fn accepted_and_issued_at_once() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let body = json!({"issue": true});
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "\"1\"", Some(body)).await;
    let accepted = accepted.assert_status(200).json();
    let next = accepted["next_recommendation_id"].as_str().expect("id");
    let next = app.grower.get(&format!("/v1/recommendations/{next}")).await;
    assert_eq!(next.assert_status(200).json()["status"], "issued");
    assert_eq!(sheet(&app, &json!(stead.recommendation)).await["status"], "superseded");
}

#[tokio::test]
async fn decided_twice_is_a_conflict() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let id = &stead.adjustment;
    let accept = format!("{}/accept", path(id));
    app.lead.post(&accept, &json!({})).await.assert_problem(428, "precondition_required");
    decide(&app.lead, id, "accept", "\"7\"", None).await.assert_problem(412, "stale");
    decide(&app.lead, id, "accept", "\"1\"", Some(json!({}))).await.assert_status(200);
    for etag in ["\"1\"", "\"2\"", "*"] {
        decide(&app.lead, id, "accept", etag, None).await.assert_problem(409, "wrong_state");
        let reason = Some(json!({"reason": "Changed my mind."}));
        decide(&app.lead, id, "decline", etag, reason).await.assert_problem(409, "wrong_state");
    }
    assert_eq!(sheets_stored(&app).await, 2);
}

#[tokio::test]
async fn declining_keeps_the_reason() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let id = &stead.adjustment;
    for (body, pointer) in [
        (json!({}), "/reason"),
        (json!({"reason": ""}), "/reason"),
        (json!({"reason": "  "}), "/reason"),
        (json!({"reason": "x".repeat(501)}), "/reason"),
        (json!({"reason": "a", "why": "b"}), "/why"),
    ] {
        let answer = decide(&app.lead, id, "decline", "\"1\"", Some(body)).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let reason = "The north end is a wet spot.";
    let body = Some(json!({"reason": reason}));
    let declined = decide(&app.lead, id, "decline", "\"1.us\"", body).await.assert_status(200);
    assert_eq!(declined.header("etag"), "\"2.us\"");
    let declined = declined.json();
    assert_eq!((&declined["status"], &declined["reason"]), (&json!("declined"), &json!(reason)));
    assert_eq!(app.grower.get(&path(id)).await.json(), declined, "whoever dug reads why");
    decide(&app.lead, id, "accept", "*", None).await.assert_problem(409, "wrong_state");
    assert_eq!(sheets_stored(&app).await, 1);
}

#[tokio::test]
async fn what_was_superseded_meanwhile_is_not_adjusted() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let revise = format!("/v1/recommendations/{}/revise", stead.recommendation);
    let revision = app.lead.create(&revise, &json!({})).await;
    let answer = decide(&app.lead, &stead.adjustment, "accept", "*", None).await;
    answer.assert_problem(409, "wrong_state");
    Farmstead { recommendation: revision, ..stead.clone() }.issue(&app.lead).await;
    let answer = decide(&app.lead, &stead.adjustment, "accept", "*", None).await;
    answer.assert_problem(409, "wrong_state");
    let still = app.lead.get(&path(&stead.adjustment)).await.json();
    assert_eq!((&still["status"], &still["version"]), (&json!("proposed"), &json!(1)));
    assert_eq!(sheets_stored(&app).await, 2);
    let body = Some(json!({"reason": "There is a later revision."}));
    decide(&app.lead, &stead.adjustment, "decline", "*", body).await.assert_status(200);
}

#[tokio::test]
async fn of_those_who_decide_at_once_one_wins() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let id = &stead.adjustment;
    let no = || Some(json!({"reason": "No."}));
    let (a, b, c, d) = tokio::join!(
        decide(&app.lead, id, "accept", "\"1\"", None),
        decide(&app.advisor, id, "accept", "\"1\"", Some(json!({"issue": true}))),
        decide(&app.lead, id, "decline", "\"1\"", no()),
        decide(&app.advisor, id, "decline", "\"1\"", no()),
    );
    let all = [&a, &b, &c, &d].map(|answer| answer.status);
    assert_eq!(all.iter().filter(|status| **status == 200).count(), 1, "{all:?}");
    assert!(all.iter().all(|status| [200, 409].contains(status)), "{all:?}");
    let accepted = a.status == 200 || b.status == 200;
    assert_eq!(sheets_stored(&app).await, if accepted { 2 } else { 1 });
    let row = app.lead.get(&path(id)).await.json();
    assert_eq!(row["status"], if accepted { "accepted" } else { "declined" });
    assert_eq!(row.get("next_recommendation_id").is_some(), accepted);
}

#[tokio::test]
async fn of_two_accepts_one_wins() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let id = &stead.adjustment;
    let (a, b) = tokio::join!(
        decide(&app.lead, id, "accept", "\"1\"", None),
        decide(&app.advisor, id, "accept", "\"1\"", None),
    );
    let mut both = [a.status, b.status];
    both.sort_unstable();
    assert_eq!(both, [200, 409]);
    assert_eq!(sheets_stored(&app).await, 2);
}

#[tokio::test]
async fn the_advisor_may_want_it_otherwise() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let bad = json!({"goals": {"speed": {"value": 99, "unit": "[mi_i]/h"}}});
    let answer = decide(&app.lead, &stead.adjustment, "accept", "*", Some(bad)).await;
    answer.assert_problem(422, "invalid_request").assert_member("/goals/speed");
    let body = json!({"goals": {
        "down_force": {"value": 240, "unit": "[lbf_av]"},
        "instructions": ["Dig again after two rounds."]
    }});
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "*", Some(body)).await;
    let next = sheet(&app, &accepted.assert_status(200).json()["next_recommendation_id"]).await;
    // 33 psi gives 240 lbf on this calibration.
    assert_eq!(
        next["settings"]["down_force"]["per_row"],
        json!({"value": 240.0, "unit": "[lbf_av]"})
    );
    assert_eq!(next["goals"]["down_force"], json!({"value": 240.0, "unit": "[lbf_av]"}));
    assert_eq!(next["goals"]["depth"], json!({"value": 2.0, "unit": "[in_i]"}), "as before");
    assert_eq!(next["instructions"], json!(["Dig again after two rounds."]));
}

#[tokio::test]
async fn what_the_engine_can_not_set_becomes_an_instruction() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let ridged = json!({"seed_depths": {"unit": "[in_i]", "values": [2.0, 2.0]}, "bottom": "w"});
    let dig = dig_with(&app, &stead, &ridged).await;
    assert_eq!(dig["proposal"]["change"]["kind"], "inspect");
    let id = dig["adjustment_id"].as_str().expect("an adjustment");
    let full = json!({"goals": {"instructions": ["1", "2", "3", "4", "5"]}});
    let answer = decide(&app.lead, id, "accept", "*", Some(full)).await;
    answer.assert_problem(422, "invalid_request").assert_member("/goals/instructions");
    let four = json!({"issue": true, "goals": {"instructions": ["1", "2", "3", "4"]}});
    let accepted = decide(&app.lead, id, "accept", "*", Some(four)).await.assert_status(200);
    let next = sheet(&app, &accepted.json()["next_recommendation_id"]).await;
    let lines = next["instructions"].as_array().expect("lines");
    assert_eq!(lines.len(), 5);
    assert!(
        lines[4].as_str().expect("a line").starts_with("Look first at touch of the opener discs")
    );

    // Looked at, dug again: the line is done and leaves with the next change.
    let recommendation = next["id"].as_str().expect("id").to_owned();
    let stead = Farmstead { recommendation, ..stead }.with_dig(&app.grower).await;
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "*", None).await;
    let last = sheet(&app, &accepted.assert_status(200).json()["next_recommendation_id"]).await;
    assert_eq!(last["instructions"], json!(["1", "2", "3", "4"]));
}

#[tokio::test]
async fn a_lever_that_is_off_is_moved_and_the_depth_stays() {
    let app = TestApp::start().await;
    let mut stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut planter = Farmstead::planter_body(&stead.grower);
    planter["name"] = json!("With a lever");
    planter["makeup"]["unit"]["opener"]["measured"] = json!({"value": 15, "unit": "[in_i]"});
    planter["makeup"]["depth_lever"] = json!({
        "first": {"value": 0.5, "unit": "[in_i]"}, "step": {"value": 0.25, "unit": "[in_i]"}, "notches": 14
    });
    stead.planter = app.lead.create("/v1/planters", &planter).await;
    let stead = stead.with_sheet(&app.lead).await;
    let before = sheet(&app, &json!(stead.recommendation)).await;
    assert_eq!(before["settings"]["depth"]["lever"]["notch"], json!(7), "2 in is notch 7");
    let shallow = json!({
        "seed_depths": {"unit": "[in_i]", "values": [1.5, 1.45, 1.55]}, "gauge_wheels": "turn_with_effort"
    });
    let dig = dig_with(&app, &stead, &shallow).await;
    let change = &dig["proposal"]["change"];
    assert_eq!((&change["kind"], &change["notch"]), (&json!("depth"), &json!(9)), "{dig:#}");
    let id = dig["adjustment_id"].as_str().expect("an adjustment");
    let issue = Some(json!({"issue": true}));
    let accepted = decide(&app.lead, id, "accept", "*", issue).await.assert_status(200).json();
    let next = sheet(&app, &accepted["next_recommendation_id"]).await;
    let depth = &next["settings"]["depth"];
    assert_eq!(depth["value"], before["settings"]["depth"]["value"], "2 in are wanted still");
    assert_eq!(depth["lever_depth"], json!({"value": 2.5, "unit": "[in_i]"}));
    assert_eq!(depth["lever"]["notch"], json!(9));

    let recommendation = next["id"].as_str().expect("id").to_owned();
    let right = json!({
        "seed_depths": {"unit": "[in_i]", "values": [2.0, 1.95, 2.05]}, "gauge_wheels": "turn_with_effort"
    });
    let judged = dig_with(&app, &Farmstead { recommendation, ..stead }, &right).await;
    assert_eq!(judged["depth"]["target"], json!({"value": 2.0, "unit": "[in_i]"}));
    assert_eq!(judged["proposal"]["change"]["kind"], "keep_as_is", "held against 2 in");
}

#[tokio::test]
async fn the_units_of_the_advisor_make_the_same_revision() {
    let app = TestApp::start().await;
    let mut worked = Vec::new();
    for units in ["us", "si"] {
        let grower = app.lead.create("/v1/growers", &json!({"name": units})).await;
        let stead = Farmstead::of_grower(&app.lead, &grower).await;
        let stead = stead.with_sheet(&app.lead).await.with_dig(&app.lead).await;
        let accept = format!("{}/accept?units={units}", path(&stead.adjustment));
        let accepted = app.lead.send("POST", &accept, &[("if-match", "*")], None).await;
        let accepted = accepted.assert_status(200);
        assert_eq!(accepted.header("etag"), format!("\"2.{units}\""));
        worked.push(sheet(&app, &accepted.json()["next_recommendation_id"]).await);
    }
    assert_eq!(
        worked[0]["settings"]["down_force"]["per_row"],
        worked[1]["settings"]["down_force"]["per_row"]
    );
    assert_eq!(
        worked[0]["settings"]["down_force"]["set_on_planter"],
        worked[1]["settings"]["down_force"]["set_on_planter"]
    );
    assert_eq!(worked[0]["goals"]["down_force"]["unit"], "[lbf_av]");
    assert_eq!(worked[1]["goals"]["down_force"]["unit"], "N");
}

#[tokio::test]
async fn a_grower_sees_his_own_and_no_draft_behind_it() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let neighbour = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let theirs = Farmstead::of_grower(&app.lead, &neighbour).await;
    let theirs = theirs.with_sheet(&app.lead).await.with_dig(&app.lead).await;
    app.grower.get(&path(&theirs.adjustment)).await.assert_problem(404, "not_found");
    app.stranger.get(&path(&theirs.adjustment)).await.assert_problem(404, "not_found");
    let own = app.grower.get("/v1/adjustments").await.assert_status(200).json();
    assert_eq!(own["items"].as_array().map(Vec::len), Some(1));
    assert_eq!(own["items"][0]["id"], stead.adjustment.as_str());
    for step in ["accept", "decline"] {
        let answer = decide(&app.grower, &stead.adjustment, step, "*", Some(json!({}))).await;
        answer.assert_problem(403, "forbidden");
    }
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "*", None).await;
    let next = accepted.assert_status(200).json()["next_recommendation_id"].clone();
    let seen = app.grower.get(&path(&stead.adjustment)).await.assert_status(200).json();
    assert_eq!(seen["status"], "accepted");
    assert!(seen.get("next_recommendation_id").is_none(), "it is a draft: {seen}");
    let next = next.as_str().expect("id").to_owned();
    Farmstead { recommendation: next.clone(), ..stead.clone() }.issue(&app.lead).await;
    let seen = app.grower.get("/v1/adjustments").await.assert_status(200).json();
    assert_eq!(seen["items"][0]["next_recommendation_id"], next.as_str());
}

#[tokio::test]
async fn adjustments_are_filtered_and_paged() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let second = stead.clone().with_dig(&app.grower).await;
    let other = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let other = Farmstead::of_grower(&app.lead, &other).await;
    let other = other.with_sheet(&app.lead).await.with_dig(&app.lead).await;
    let no = Some(json!({"reason": "No."}));
    decide(&app.lead, &second.adjustment, "decline", "*", no).await.assert_status(200);
    let ids = |query: String| {
        let user = app.read_only.clone();
        async move {
            let page = user.get(&format!("/v1/adjustments{query}")).await.assert_status(200).json();
            let items = page["items"].as_array().expect("items").clone();
            let ids: Vec<String> =
                items.iter().map(|it| it["id"].as_str().expect("id").to_owned()).collect();
            (ids, page["next_cursor"].as_str().map(str::to_owned))
        }
    };
    let (one, two, three) = (stead.adjustment, second.adjustment, other.adjustment);
    let all = vec![one.clone(), two.clone(), three.clone()];
    assert_eq!(ids(String::new()).await, (all, None));
    assert_eq!(ids("?status=proposed".into()).await.0, [one.clone(), three.clone()]);
    assert_eq!(ids("?status=declined".into()).await.0, std::slice::from_ref(&two));
    assert_eq!(ids("?status=accepted".into()).await.0, [""; 0]);
    assert_eq!(ids(format!("?field_id={}", other.field)).await.0, std::slice::from_ref(&three));
    let of_sheet = format!("?recommendation_id={}&limit=1", stead.recommendation);
    let (first, cursor) = ids(of_sheet.clone()).await;
    assert_eq!(first, [one]);
    let rest = format!("{of_sheet}&cursor={}", cursor.expect("a next page"));
    assert_eq!(ids(rest).await, (vec![two], None));
    for (query, name) in
        [("?status=open", "?status"), ("?limit=0", "?limit"), ("?cursor=x", "?cursor")]
    {
        let answer = app.lead.get(&format!("/v1/adjustments{query}")).await;
        answer.assert_problem(422, "invalid_request").assert_member(name);
    }
}

#[tokio::test]
async fn a_decision_that_can_not_be_stored_leaves_no_revision() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let db = &app.state().db;
    // The last write of accepting is that of the decision: let it fail.
    let steps: &[&str] = match db.get_database_backend() {
        DbBackend::Postgres => &[
            "CREATE FUNCTION stop() RETURNS trigger AS $$ BEGIN RAISE EXCEPTION 'stop'; END $$ LANGUAGE plpgsql",
            "CREATE TRIGGER stop BEFORE UPDATE ON adjustments FOR EACH ROW EXECUTE FUNCTION stop()",
        ],
        _ => &[
            "CREATE TRIGGER stop BEFORE UPDATE ON adjustments BEGIN SELECT RAISE(ABORT, 'stop'); END",
        ],
    };
    for step in steps {
        db.execute_unprepared(step).await.expect("a trigger");
    }
    let issue = Some(json!({"issue": true}));
    let answer = decide(&app.lead, &stead.adjustment, "accept", "*", issue.clone()).await;
    answer.assert_problem(500, "internal");
    assert_eq!(sheets_stored(&app).await, 1);
    assert_eq!(sheet(&app, &json!(stead.recommendation)).await["status"], "issued");
    let row = adjustments::Entity::find().one(db).await.expect("a query").expect("a row");
    assert_eq!((row.status, row.version), (adjustments::Status::Proposed, 1));
    let drop = match db.get_database_backend() {
        DbBackend::Postgres => "DROP TRIGGER stop ON adjustments",
        _ => "DROP TRIGGER stop",
    };
    db.execute_unprepared(drop).await.expect("dropped");
    decide(&app.lead, &stead.adjustment, "accept", "\"1\"", issue).await.assert_status(200);
}
