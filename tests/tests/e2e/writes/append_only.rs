//! The database refuses to change the audit trail.

use sea_orm::{ConnectionTrait, DbBackend};
use serde_json::json;
use tests::TestApp;

use super::events;
use super::held::actor;

#[tokio::test]
async fn events_are_never_changed_and_go_only_with_their_practice() {
    let app = TestApp::start().await;
    app.stranger.create("/v1/growers", &json!({"name": "Theirs"})).await;
    let before = events(&app).await;
    assert!(before.len() >= 2);
    let db = &app.state().db;
    let mut refused = vec![
        "UPDATE audit_events SET operation = 'nothing'",
        "UPDATE audit_events SET changed = NULL WHERE changed IS NULL",
        "DELETE FROM audit_events",
    ];
    if db.get_database_backend() == DbBackend::Postgres {
        refused.push("TRUNCATE audit_events");
    }
    for sql in &refused {
        let error = db.execute_unprepared(sql).await.expect_err(sql);
        assert!(error.to_string().contains("audit events are never"), "{error}");
    }
    assert_eq!(events(&app).await, before);
    // A practice that leaves takes its trail along, and nobody else's.
    let practice = actor(&app, &app.stranger).await.practice_id;
    let id = match db.get_database_backend() {
        DbBackend::Postgres => format!("'{practice}'"),
        _ => format!("x'{}'", practice.simple()),
    };
    let leaves =
        format!("INSERT INTO practice_removals VALUES ({id}, {id}, '2027-04-20T12:00:00Z')");
    db.execute_unprepared(&leaves).await.expect("noted");
    let theirs = format!("DELETE FROM audit_events WHERE practice_id = {id}");
    db.execute_unprepared(&theirs).await.expect("deleted");
    for sql in refused {
        db.execute_unprepared(sql).await.expect_err(sql);
    }
    let left = events(&app).await;
    assert!(!left.is_empty() && left.iter().all(|event| event.practice_id != practice));
    assert_eq!(left.len(), before.iter().filter(|it| it.practice_id != practice).count());
}
