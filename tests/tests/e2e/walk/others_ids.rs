//! Ids of others in paths: nothing is there.

use api::auth::role::Role;
use serde_json::json;
use tests::{TestApp, User};

use super::document::{Operation, operations};
use super::world::{OF_PRACTICE, World};

/// The operations on one object that a role may call.
fn of_role(role: Role) -> impl Iterator<Item = (&'static str, Operation)> {
    operations()
        .into_iter()
        .filter(move |it| it.scope.is_some_and(|scope| scope.roles.contains(&role)))
        .filter_map(|it| it.kind().map(|kind| (kind, it)))
}

/// Every operation answers as if there were nothing; gives how many were called.
async fn all_404(role: Role, user: &User, theirs: &World, but: &[&str]) -> usize {
    let mut called = 0;
    for (_, operation) in of_role(role).filter(|(kind, _)| !but.contains(kind)) {
        let there = operation.call(user, &operation.within(theirs)).await;
        let there = there.assert_problem(404, "not_found");
        let nowhere = operation.call(user, &operation.nowhere()).await;
        let nowhere = nowhere.assert_problem(404, "not_found");
        assert_eq!(there.json()["detail"], nowhere.json()["detail"], "{}", operation.id);
        called += 1;
    }
    called
}

/// What is refused to others is there for its owner.
async fn all_there(user: &User, world: &World, but: &[&str]) {
    for (kind, operation) in of_role(Role::Lead) {
        let plain = operation.method == "GET" && operation.path.ends_with("{id}");
        if plain && !but.contains(&kind) {
            user.get(&operation.within(world)).await.assert_status(200);
        }
    }
}

#[tokio::test]
async fn an_object_of_another_practice_is_404_for_every_operation() {
    let app = TestApp::start().await;
    let theirs = World::make(&app, &app.stranger, &app.stranger, "Their grower").await;
    assert!(all_404(Role::Lead, &app.lead, &theirs, &[]).await > 40);
    all_there(&app.stranger, &theirs, &[]).await;
}

#[tokio::test]
async fn an_object_of_another_grower_is_404_for_a_growers_account() {
    let app = TestApp::start().await;
    let theirs = World::make(&app, &app.lead, &app.lead, "Another grower").await;
    assert!(all_404(Role::Grower, &app.grower, &theirs, OF_PRACTICE).await > 15);
    all_there(&app.lead, &theirs, &[]).await;
}

#[tokio::test]
async fn an_object_of_another_advisors_grower_is_404_where_advisors_see_their_own_only() {
    let app = TestApp::start().await;
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
    let theirs = World::make(&app, &colleague, &app.lead, "A colleague's grower").await;
    assert!(all_404(Role::Advisor, &app.advisor, &theirs, OF_PRACTICE).await > 30);
    // A session is his who signed in, also for the lead, and machine clients are the lead's; records
    // systems are connected by the lead and by themselves.
    let of_lead = ["account", "machine_client", "job", "webhook", "records_link"];
    all_there(&colleague, &theirs, &of_lead).await;
    all_there(&app.lead, &theirs, &["session", "calendar_feed"]).await;
}
