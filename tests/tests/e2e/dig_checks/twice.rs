//! A phone without signal sends again: the same dig is kept, judged, decided and learned once.

use api::entities::{dig_checks, dig_lessons};
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, PaginatorTrait, QueryFilter};
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{dig_at, digs, issued, notices, revised, stored};

/// Lessons that teach something, and those that teach nothing.
async fn lessons(app: &TestApp) -> (u64, u64) {
    use dig_lessons::{Column, Entity};
    let db = &app.state().db;
    let taught = Entity::find().filter(Column::Event.is_not_null()).count(db).await;
    let nothing = Entity::find().filter(Column::Event.is_null()).count(db).await;
    (taught.expect("a count"), nothing.expect("a count"))
}

#[tokio::test]
async fn what_is_sent_again_is_answered_with_what_is_there() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let first = app.grower.post(&digs(&stead), &dig_at(0)).await.assert_status(201).json();
    assert_eq!(first["notices"], json!([]));
    let mut turned = dig_at(0);
    turned["dug_at"] = json!("2027-04-20T07:00:00-05:00");
    turned["rows"].as_array_mut().expect("rows").reverse();
    for (user, body) in
        [(&app.grower, &dig_at(0)), (&app.grower, &turned), (&app.advisor, &dig_at(0))]
    {
        let again = user.post(&digs(&stead), body).await.assert_status(200);
        assert!(!again.has_header("location"), "nothing was made");
        assert_eq!(again.json(), first);
    }
    assert_eq!((stored(&app).await, lessons(&app).await), ((1, 1), (1, 0)));

    // It stays the same when the change was decided, and by way of the next revision.
    let adjustment = first["adjustment_id"].as_str().expect("an adjustment");
    let accept = format!("/v1/adjustments/{adjustment}/accept");
    let issue = json!({"issue": true});
    let accepted = app.lead.send("POST", &accept, &[("if-match", "*")], Some(&issue)).await;
    let next = accepted.assert_status(200).json()["next_recommendation_id"].clone();
    let next = Farmstead { recommendation: next.as_str().expect("id").into(), ..stead.clone() };
    for path in [digs(&stead), digs(&next)] {
        let again = app.grower.post(&path, &dig_at(0)).await.assert_status(200).json();
        assert_eq!(again, first, "{path}");
    }
    assert_eq!((stored(&app).await, lessons(&app).await), ((1, 1), (1, 0)));
}

#[tokio::test]
async fn of_those_that_are_sent_at_once_one_is_kept() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let next = revised(&app, &stead).await;
    let (old, new, body) = (digs(&stead), digs(&next), dig_at(1));
    let (a, b, c, d) = tokio::join!(
        app.grower.post(&new, &body),
        app.grower.post(&new, &body),
        app.advisor.post(&new, &body),
        app.lead.post(&old, &body),
    );
    let mut all = [a.status, b.status, c.status, d.status];
    all.sort_unstable();
    assert_eq!(all, [200, 200, 200, 201], "{} {}", a.text, d.text);
    for other in [&b, &c, &d] {
        assert_eq!(a.json()["id"], other.json()["id"]);
    }
    let (kept, changes) = stored(&app).await;
    assert!(kept == 1 && changes <= 1, "{kept} digs and {changes} adjustments");
    assert_eq!(lessons(&app).await, (1, 0));
}

#[tokio::test]
async fn the_database_itself_keeps_a_dig_once() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    app.grower.create(&digs(&stead), &dig_at(0)).await;
    app.grower.create(&digs(&stead), &dig_at(1)).await;
    let db = &app.state().db;
    let rows = dig_checks::Entity::find().all(db).await.expect("rows");
    let prints: Vec<_> = rows.iter().map(|row| row.fingerprint.clone().expect("one")).collect();
    assert!(prints[0] != prints[1] && prints.iter().all(|it| it.len() == 64), "{prints:?}");
    let same = format!("UPDATE dig_checks SET fingerprint = '{}'", prints[0]);
    assert!(db.execute_unprepared(&same).await.is_err());
}

#[tokio::test]
async fn a_dig_from_before_fingerprints_is_known_again() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let first = app.grower.post(&digs(&stead), &dig_at(0)).await.assert_status(201).json();
    let db = &app.state().db;
    db.execute_unprepared("UPDATE dig_checks SET fingerprint = NULL, notices = NULL")
        .await
        .expect("as it was");
    let again = app.grower.post(&digs(&stead), &dig_at(0)).await.assert_status(200).json();
    assert_eq!(again, first);
    assert_eq!(stored(&app).await, (1, 1));
}

#[tokio::test]
async fn other_words_are_kept_and_count_once() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let first = app.grower.create(&digs(&stead), &dig_at(0)).await;
    for (member, value) in [
        ("notes", json!("Row 6 looks worn.")),
        ("place", json!("north end")),
        ("rows_as_planned", json!(true)),
    ] {
        let mut body = dig_at(0);
        body[member] = value.clone();
        let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
        assert_eq!(dig["observation"][member], value, "it is not lost");
        assert_eq!(notices(&dig), ["same_readings"], "{member}");
        assert_eq!(dig["notices"][0]["dig_check_id"], first.as_str());
        assert!(dig.get("adjustment_id").is_none(), "one change waits, not two");
    }
    assert_eq!((stored(&app).await, lessons(&app).await), ((4, 1), (1, 3)));
}

#[tokio::test]
async fn other_numbers_at_the_same_time_are_a_dig_of_their_own() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let first = app.grower.create(&digs(&stead), &dig_at(0)).await;
    let mut other = dig_at(0);
    other["rows"][2]["seed_depths"]["values"][0] = json!(1.75);
    let dig = app.grower.post(&digs(&stead), &other).await.assert_status(201).json();
    assert_eq!(notices(&dig), ["resembles_another"]);
    assert_eq!(dig["notices"][0]["dig_check_id"], first.as_str());
    assert!(dig["adjustment_id"].is_string());
    let mut settings = dig_at(0);
    settings["settings"]["pressure"]["value"] = json!(31);
    let dig = app.grower.post(&digs(&stead), &settings).await.assert_status(201).json();
    assert_eq!(notices(&dig), ["resembles_another"]);
    let path = format!("/v1/dig-checks/{}", dig["id"].as_str().expect("id"));
    assert_eq!(app.grower.get(&path).await.json(), dig, "the notice stays with it");
    let rows = |keep: &[usize]| {
        let mut body = dig_at(0);
        let all = body["rows"].as_array().expect("rows").clone();
        body["rows"] = keep.iter().map(|at| all[*at].clone()).collect::<Value>();
        body
    };
    let dig = app.grower.post(&digs(&stead), &rows(&[0, 1, 2])).await.assert_status(201).json();
    assert_eq!(dig["notices"], json!([]), "two dug at once: other rows");
    let dig = app.grower.post(&digs(&stead), &dig_at(1)).await.assert_status(201).json();
    assert_eq!(dig["notices"], json!([]), "a minute later");
    assert_eq!(stored(&app).await.0, 5);
}

#[tokio::test]
async fn another_series_is_another_dig() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let first = app.grower.create(&digs(&stead), &dig_at(0)).await;
    let other = stead.clone().with_sheet(&app.lead).await;
    let second = app.grower.post(&digs(&other), &dig_at(0)).await.assert_status(201).json();
    assert_ne!(second["id"], first.as_str());
    assert_eq!(second["notices"], json!([]));
}
