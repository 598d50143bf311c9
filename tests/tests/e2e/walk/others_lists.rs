//! Lists and reports without an id in the path name nothing of others.

use api::auth::role::Role;
use serde_json::json;
use tests::{TestApp, User};

use super::document::operations;
use super::world::{KINDS, OF_PRACTICE, World};

/// Gives how many answers were searched, and how often something of one's own was found.
async fn search(role: Role, user: &User, own: &World, theirs: &World, but: &[&str]) -> [usize; 2] {
    let [mut searched, mut found] = [0, 0];
    for operation in operations() {
        let may = operation.scope.is_some_and(|scope| scope.roles.contains(&role));
        if !may || operation.method != "GET" || operation.path.contains('{') {
            continue;
        }
        let pages = operation.query.iter().any(|name| name == "limit");
        let path = if pages { format!("{}?limit=200", operation.path) } else { operation.path };
        let answer = user.get(&path).await.assert_status(200);
        for kind in KINDS.iter().filter(|kind| !but.contains(kind)) {
            let id = theirs.id_of(kind);
            assert!(!answer.text.contains(id), "{path} names the {kind} of someone else");
            found += usize::from(answer.text.contains(own.id_of(kind)));
        }
        searched += 1;
    }
    [searched, found]
}

#[tokio::test]
async fn the_lists_of_a_practice_name_nothing_of_another() {
    let app = TestApp::start().await;
    let own = World::make(&app, &app.lead, &app.lead, "Own grower").await;
    let theirs = World::make(&app, &app.stranger, &app.stranger, "Their grower").await;
    // The figures are alike, and so is the id that is made from them.
    let alike = ["coefficient_set"];
    let [searched, found] = search(Role::Lead, &app.lead, &own, &theirs, &alike).await;
    assert!(searched > 12 && found > 10, "{searched} searched, {found} found");
}

#[tokio::test]
async fn the_lists_of_an_advisor_name_nothing_of_a_colleagues_growers() {
    let app = TestApp::start().await;
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
    let own = World::make(&app, &app.advisor, &app.lead, "Own grower").await;
    let theirs = World::make(&app, &colleague, &app.lead, "A colleague's grower").await;
    let [searched, found] = search(Role::Advisor, &app.advisor, &own, &theirs, OF_PRACTICE).await;
    assert!(searched > 10 && found > 8, "{searched} searched, {found} found");
}

#[tokio::test]
async fn the_lists_of_a_growers_account_name_nothing_of_another_grower() {
    let app = TestApp::start().await;
    let own = World::make(&app, &app.lead, &app.lead, "Own grower").await;
    let theirs = World::make(&app, &app.lead, &app.lead, "Another grower").await;
    let person = app.someone("person", Role::Grower, Some(own.id_of("grower"))).await;
    let but: Vec<&str> = OF_PRACTICE.iter().copied().chain(["session"]).collect();
    let [searched, found] = search(Role::Grower, &person, &own, &theirs, &but).await;
    assert!(searched > 8 && found > 5, "{searched} searched, {found} found");
}
