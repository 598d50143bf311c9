//! A cursor of someone else's list leads nowhere.

use tests::TestApp;

use super::document::operations;
use super::world::World;

#[tokio::test]
async fn a_cursor_of_another_practices_list_is_refused() {
    let app = TestApp::start().await;
    let stranger = &app.stranger;
    World::make(&app, stranger, stranger, "Their grower").await;
    World::make(&app, stranger, stranger, "Their second grower").await;
    let mut tried = 0;
    let lists = operations().into_iter().filter(|it| it.query.iter().any(|name| name == "cursor"));
    for list in lists.filter(|it| it.kind().is_none() && !it.path.contains('{')) {
        let first = format!("{}?limit=1", list.path);
        let page = list.call(stranger, &first).await.assert_status(200).json();
        let Some(cursor) = page["next_cursor"].as_str() else { continue };
        let next = format!("{first}&cursor={cursor}");
        list.call(stranger, &next).await.assert_status(200);
        let refused = list.call(&app.lead, &next).await;
        refused.assert_problem(422, "invalid_request").assert_member("?cursor");
        tried += 1;
    }
    assert!(tried >= 6, "only {tried} lists had a second page");
}
