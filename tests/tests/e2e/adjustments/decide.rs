//! A decision is made once, on what still counts.

use api::entities::adjustments;
use sea_orm::{ConnectionTrait, DbBackend, EntityTrait};
use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{decide, dug, path, sheet, sheets_stored};

#[tokio::test]
async fn decided_twice_is_a_conflict() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let id = &stead.adjustment;
    let accept = format!("{}/accept", path(id));
    app.lead.post(&accept, &json!({})).await.assert_problem(428, "precondition_required");
    decide(&app.lead, id, "accept", "\"7\"", None).await.assert_problem(412, "stale");
    let accepted = decide(&app.lead, id, "accept", "\"1\"", Some(json!({}))).await;
    let accepted = accepted.assert_status(200).json();
    let next = accepted["next_recommendation_id"].as_str().expect("id");
    let why = format!("The adjustment was accepted already, and made recommendation {next}.");
    for etag in ["\"1\"", "\"2\"", "*"] {
        let reason = json!({"reason": "Changed my mind."});
        for (step, body) in [("accept", None), ("decline", Some(reason))] {
            let answer = decide(&app.lead, id, step, etag, body).await;
            let said = answer.assert_problem(409, "wrong_state").json()["detail"].clone();
            assert!(said.as_str().is_some_and(|it| it.starts_with(&why)), "{step}: {said}");
        }
    }
    assert_eq!(app.lead.get(&path(id)).await.json(), accepted, "it stays as it was");
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
    let late = decide(&app.lead, id, "accept", "*", None).await;
    let said = late.assert_problem(409, "wrong_state").json()["detail"].clone();
    let why = format!("The adjustment was declined already (\"{reason}\").");
    assert!(said.as_str().is_some_and(|it| it.starts_with(&why)), "{said}");
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
    Farmstead { recommendation: revision.clone(), ..stead.clone() }.issue(&app.lead).await;
    let answer = decide(&app.lead, &stead.adjustment, "accept", "*", None).await;
    let said = answer.assert_problem(409, "wrong_state").json()["detail"].clone();
    let said = said.as_str().expect("words");
    assert!(said.contains("a revision that was replaced since"), "{said}");
    assert!(said.contains(&format!("Revision {revision} counts now.")), "{said}");
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
