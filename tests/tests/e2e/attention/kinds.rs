//! Each kind: when it comes, what it says, when it goes.

use api::auth::role::Role;
use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{grower, lead, list, of_kind};

fn at(app: &TestApp, time: &str) {
    app.clock.set(time.parse().expect("a time"));
}

#[tokio::test]
async fn a_sheet_that_nobody_saw_then_a_dig_that_does_not_come() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&lead(&app), "Quiet Acres").await;
    stead.issue(&lead(&app)).await;
    assert_eq!(of_kind(&lead(&app), "sheet_unseen").await, [] as [serde_json::Value; 0]);
    // Planting is planned for the next day, and that comes before the 24 hours are over.
    at(&app, "2027-04-20T23:59:59Z");
    assert!(of_kind(&lead(&app), "sheet_unseen").await.is_empty());
    at(&app, "2027-04-21T00:00:00Z");
    let unseen = of_kind(&lead(&app), "sheet_unseen").await;
    assert_eq!(unseen.len(), 1);
    let entry = &unseen[0];
    assert_eq!(
        (entry["urgency"].as_str(), entry["due_on"].as_str()),
        (Some("now"), Some("2027-04-21"))
    );
    let reason = entry["reason"].as_str().expect("a reason");
    assert!(reason.contains("Issued 12 hours ago") && reason.contains("21 April"), "{reason}");
    assert_eq!(entry["object_path"], format!("/v1/recommendations/{}", stead.recommendation));
    assert_eq!(entry["grower"]["name"], "Quiet Acres");
    assert_eq!(entry["field"]["name"], "North forty");
    assert_eq!(entry["planter"]["name"], "The eight-row");

    let path = format!("/v1/recommendations/{}/acknowledge", stead.recommendation);
    lead(&app).send("POST", &path, &[("if-match", "*")], None).await.assert_status(200);
    assert!(of_kind(&lead(&app), "sheet_unseen").await.is_empty());
    at(&app, "2027-04-23T23:59:59Z");
    assert!(of_kind(&lead(&app), "dig_overdue").await.is_empty());
    at(&app, "2027-04-24T00:00:00Z");
    let overdue = of_kind(&lead(&app), "dig_overdue").await;
    assert_eq!(overdue[0]["urgency"], "soon");
    let reason = overdue[0]["reason"].as_str().expect("a reason");
    assert!(reason.contains("seen on 21 April; 3 days later"), "{reason}");
    at(&app, "2027-04-27T00:00:00Z");
    assert_eq!(of_kind(&lead(&app), "dig_overdue").await[0]["urgency"], "now");

    let mut dig = Farmstead::dig_body();
    dig["dug_at"] = json!("2027-04-26T15:00:00Z");
    let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    lead(&app).post(&path, &dig).await.assert_status(201);
    assert!(of_kind(&lead(&app), "dig_overdue").await.is_empty());
}

#[tokio::test]
async fn a_planting_that_is_reported_asks_for_a_dig_at_once() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&lead(&app), "Planted").await;
    stead.issue(&lead(&app)).await;
    at(&app, "2027-04-21T20:00:00Z");
    let planting = json!({
        "planter_id": stead.planter, "recommendation_id": stead.recommendation,
        "planted_on": "2027-04-21", "crop": "corn"
    });
    lead(&app)
        .post(&format!("/v1/fields/{}/plantings", stead.field), &planting)
        .await
        .assert_status(201);
    at(&app, "2027-04-22T23:00:00Z");
    assert!(of_kind(&lead(&app), "dig_overdue").await.is_empty());
    at(&app, "2027-04-23T00:00:00Z");
    let overdue = of_kind(&lead(&app), "dig_overdue").await;
    assert_eq!((overdue[0]["urgency"].as_str(), overdue.len()), (Some("now"), 1));
    let reason = overdue[0]["reason"].as_str().expect("a reason");
    assert!(
        reason.starts_with("Planted on 21 April and no dig has come in, 2 days later"),
        "{reason}"
    );
}

#[tokio::test]
async fn a_dig_that_asks_for_a_change_waits_for_the_decision_and_off_target_stays() {
    let app = TestApp::start().await;
    // Seed at 1.55 in, where the sheet says 2 in.
    let grower = lead(&app).create("/v1/growers", &json!({"name": "Shallow"})).await;
    let stead = Farmstead::of_grower(&lead(&app), &grower).await.with_sheet(&lead(&app)).await;
    let stead = stead.with_dig(&lead(&app)).await;
    let failed = of_kind(&lead(&app), "dig_failed").await;
    assert_eq!(failed.len(), 1);
    assert_eq!(failed[0]["urgency"], "now", "the planter is standing");
    assert_eq!(failed[0]["object_path"], format!("/v1/adjustments/{}", stead.adjustment));
    let reason = failed[0]["reason"].as_str().expect("a reason");
    assert!(reason.contains("20 April asks for another"), "{reason}");
    at(&app, "2027-04-23T12:00:00Z");
    assert_eq!(of_kind(&lead(&app), "dig_failed").await[0]["urgency"], "soon");

    let decline = json!({"reason": "Rain is an hour away."});
    let path = format!("/v1/adjustments/{}/decline", stead.adjustment);
    lead(&app).send("POST", &path, &[("if-match", "*")], Some(&decline)).await.assert_status(200);
    let failed = of_kind(&lead(&app), "dig_failed").await;
    assert_eq!(failed[0]["object_path"], format!("/v1/dig-checks/{}", stead.dig_check));
    let reason = failed[0]["reason"].as_str().expect("a reason");
    assert!(reason.contains("too shallow"), "{reason}");
    at(&app, "2027-05-04T12:00:00Z");
    assert!(of_kind(&lead(&app), "dig_failed").await.is_empty(), "the field is done");
}

#[tokio::test]
async fn a_declined_change_of_a_dig_at_depth_leaves_nothing_to_do() {
    let app = TestApp::start().await;
    // The same dig, where the sheet says 1.75 in: at depth, and only the gauge wheels run free.
    let stead = Farmstead::make(&lead(&app), "At depth").await;
    stead.issue(&lead(&app)).await;
    let stead = stead.with_dig(&lead(&app)).await;
    let dig = lead(&app).get(&format!("/v1/dig-checks/{}", stead.dig_check)).await.json();
    assert_eq!(dig["depth"]["settled"]["side"], "inside", "{}", dig["depth"]);
    assert_eq!(of_kind(&lead(&app), "dig_failed").await.len(), 1);
    let path = format!("/v1/adjustments/{}/decline", stead.adjustment);
    let reason = json!({"reason": "Deep enough."});
    lead(&app).send("POST", &path, &[("if-match", "*")], Some(&reason)).await.assert_status(200);
    assert!(of_kind(&lead(&app), "dig_failed").await.is_empty());
}

#[tokio::test]
async fn a_decision_that_is_taken_leads_to_the_next_dig() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&lead(&app), "Decided").await;
    stead.issue(&lead(&app)).await;
    let stead = stead.with_dig(&lead(&app)).await;
    let path = format!("/v1/adjustments/{}/accept", stead.adjustment);
    let issue = json!({"issue": true});
    lead(&app).send("POST", &path, &[("if-match", "*")], Some(&issue)).await.assert_status(200);
    assert!(of_kind(&lead(&app), "dig_failed").await.is_empty());
    at(&app, "2027-04-21T12:00:00Z");
    let unseen = of_kind(&lead(&app), "sheet_unseen").await;
    assert_eq!(
        unseen[0]["key"],
        format!("sheet_unseen.{}", stead.recommendation),
        "the same series"
    );
}

#[tokio::test]
async fn old_conditions_calibrations_and_growers_left_out() {
    let app = TestApp::start().await;
    let owner = lead(&app).create("/v1/growers", &json!({"name": "No gauge"})).await;
    let farm = lead(&app).create("/v1/farms", &json!({"grower_id": owner, "name": "F"})).await;
    let field = lead(&app).create("/v1/fields", &Farmstead::field_body(&farm)).await;
    let planter = lead(&app).create("/v1/planters", &Farmstead::planter_body(&owner)).await;
    let mut conditions = Farmstead::conditions_body();
    conditions["planting_date"] = json!("2027-04-30");
    lead(&app).create(&format!("/v1/fields/{field}/conditions"), &conditions).await;
    let sheet = json!({"field_id": field, "planter_id": planter, "goals": {}});
    let sheet = lead(&app).create("/v1/recommendations", &sheet).await;
    assert!(of_kind(&lead(&app), "calibration_missing").await.is_empty(), "nobody plants with it");
    assert!(of_kind(&lead(&app), "grower_without_sheet").await.is_empty(), "nobody has one yet");
    let other = Farmstead::make(&lead(&app), "Left out").await;
    let issue = format!("/v1/recommendations/{sheet}/issue");
    lead(&app).send("POST", &issue, &[("if-match", "*")], None).await.assert_status(200);

    let missing = of_kind(&lead(&app), "calibration_missing").await;
    assert_eq!((missing.len(), missing[0]["urgency"].as_str()), (1, Some("soon")));
    assert_eq!(missing[0]["object_path"], format!("/v1/planters/{planter}"));
    let left_out = of_kind(&lead(&app), "grower_without_sheet").await;
    assert_eq!(left_out.len(), 1);
    assert_eq!(left_out[0]["grower"]["id"], other.grower);
    assert!(left_out[0]["reason"].as_str().expect("a reason").contains("1 other grower has one"));

    assert!(of_kind(&lead(&app), "conditions_old").await.is_empty());
    at(&app, "2027-04-27T10:30:00Z");
    let old = of_kind(&lead(&app), "conditions_old").await;
    assert_eq!((old.len(), old[0]["urgency"].as_str()), (1, Some("when_you_can")));
    at(&app, "2027-04-28T10:30:00Z");
    assert_eq!(of_kind(&lead(&app), "conditions_old").await[0]["urgency"], "soon");
    at(&app, "2027-05-01T00:00:00Z");
    assert!(of_kind(&lead(&app), "conditions_old").await.is_empty(), "the day has passed");

    let mut calibration = Farmstead::calibration_body();
    calibration["calibrated_on"] = json!("2025-04-29");
    lead(&app).create(&format!("/v1/planters/{planter}/calibrations"), &calibration).await;
    assert!(of_kind(&lead(&app), "calibration_missing").await.is_empty());
    let old = of_kind(&lead(&app), "calibration_old").await;
    assert_eq!((old.len(), old[0]["due_on"].as_str()), (1, Some("2027-04-29")));
}

#[tokio::test]
async fn inspections_are_due_before_planting_begins_where_planting_begins() {
    let app = TestApp::start().await;
    let owner = lead(&app).create("/v1/growers", &json!({"name": "Shed"})).await;
    lead(&app).create("/v1/planters", &Farmstead::planter_body(&owner)).await;
    at(&app, "2027-03-24T23:59:59Z");
    assert!(of_kind(&lead(&app), "inspection_due").await.is_empty());
    at(&app, "2027-03-25T00:00:00Z");
    let due = of_kind(&lead(&app), "inspection_due").await;
    assert_eq!((due.len(), due[0]["due_on"].as_str()), (1, Some("2027-04-15")));
    let reason = due[0]["reason"].as_str().expect("a reason");
    assert!(reason.contains("never inspected") && reason.contains("21 days"), "{reason}");
    at(&app, "2027-05-31T00:00:00Z");
    assert!(of_kind(&lead(&app), "inspection_due").await.is_empty(), "too late to be of use");
    // In the south the season crosses the year.
    let south = json!({"time_zone": "America/Sao_Paulo", "season_starts": "07-01"});
    lead(&app).patch("/v1/practice", "*", &south).await.assert_status(200);
    let begins = json!({"planting_begins": "10-01"});
    lead(&app).patch("/v1/attention-limits", "*", &begins).await.assert_status(200);
    at(&app, "2027-09-10T02:59:59Z");
    assert!(of_kind(&lead(&app), "inspection_due").await.is_empty(), "the ninth there");
    at(&app, "2027-09-10T03:00:00Z");
    assert_eq!(of_kind(&lead(&app), "inspection_due").await[0]["due_on"], "2027-10-01");
}

#[tokio::test]
async fn a_grower_sees_his_own_in_his_words_and_nothing_of_others() {
    let app = TestApp::start().await;
    let own =
        Farmstead::of_grower(&lead(&app), &app.own_grower_id).await.with_draft(&lead(&app)).await;
    own.issue(&lead(&app)).await;
    let other = Farmstead::make(&lead(&app), "Somebody else").await;
    other.issue(&lead(&app)).await;
    at(&app, "2027-04-21T12:00:00Z");
    assert_eq!(of_kind(&lead(&app), "sheet_unseen").await.len(), 2);
    let seen = list(&grower(&app), "").await;
    assert!(seen.iter().all(|entry| entry["grower"]["id"] == app.own_grower_id), "{seen:?}");
    let entry = seen.iter().find(|entry| entry["kind"] == "sheet_unseen").expect("his");
    assert!(entry["reason"].as_str().expect("a reason").starts_with("Your advisor sent"));
    assert!(entry["next_step"].as_str().expect("a step").contains("confirm that you saw it"));
    // What is put off for the practice is not put off for him.
    let later = json!({"until": "2027-04-30", "reason": "On holiday."});
    let key = entry["key"].as_str().expect("a key");
    let snooze = format!("/v1/attention/{key}/snooze");
    grower(&app).post(&snooze, &later).await.assert_problem(403, "forbidden");
    lead(&app).post(&snooze, &later).await.assert_status(200);
    assert_eq!(of_kind(&lead(&app), "sheet_unseen").await.len(), 1);
    let seen = of_kind(&grower(&app), "sheet_unseen").await;
    assert_eq!(seen.len(), 1);
    assert!(seen[0].get("snooze").is_none(), "nor does he read why");
    let person = app.someone("person", Role::Grower, None).await;
    assert!(list(&person, "").await.is_empty());
}
