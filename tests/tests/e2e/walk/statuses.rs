//! What comes back is what the document names.

use serde_json::json;
use tests::TestApp;

use super::document::operations;
use super::world::World;

#[tokio::test]
async fn every_answer_has_a_status_that_the_document_names() {
    let app = TestApp::start().await;
    let world = World::make(&app, &app.lead, &app.lead, "Own grower").await;
    let hostile = json!({"no such member": ["\u{0}", 1e300, null]});
    for operation in operations() {
        // Ids that are there, but of another kind: nothing is deleted by the way.
        let path = operation.at(|_kind| world.id_of("farm").to_owned());
        for (headers, body) in [
            (vec![], operation.body.clone()),
            (vec![("if-match", "\"99\"")], operation.body.clone()),
            (vec![], Some(hostile.clone())),
            (vec![("content-type", "text/plain")], Some(json!("x"))),
        ] {
            let farm = operation.kind() == Some("farm");
            if farm || operation.body.is_none() && body.is_some() {
                continue;
            }
            let answer = app.lead.send(&operation.method, &path, &headers, body.as_ref()).await;
            let status = answer.status.to_string();
            assert!(operation.statuses.contains(&status), "{} answers {status}", operation.id);
            assert!(answer.status < 500, "{}: {}", operation.id, answer.text);
        }
    }
}
