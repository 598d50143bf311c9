//! Every operation as every role, and with tokens of too narrow a scope.

use api::auth::permission::PERMISSIONS;
use api::auth::role::Role;
use tests::{Answer, TestApp};

use super::document::{Operation, operations};

#[track_caller]
fn refused(answer: Answer, scope: &str) {
    let answer = answer.assert_problem(403, "forbidden");
    let challenge = format!("Bearer error=\"insufficient_scope\", scope=\"{scope}\"");
    assert_eq!(answer.header("www-authenticate"), challenge);
}

#[track_caller]
fn let_in(answer: &Answer, operation: &Operation, who: &str) {
    let code = if answer.status < 400 { "".into() } else { answer.json()["code"].clone() };
    let kept_out = ["forbidden", "unauthenticated"].iter().any(|kept_out| code == *kept_out);
    assert!(!kept_out, "{} by {who}: {}", operation.id, answer.text);
}

#[tokio::test]
async fn a_role_without_the_scope_is_403_and_one_with_it_is_let_in() {
    let app = TestApp::start().await;
    let users = [
        (Role::Advisor, &app.advisor),
        (Role::Grower, &app.grower),
        (Role::RecordsSystem, &app.records_system),
        (Role::ReadOnly, &app.read_only),
        (Role::Lead, &app.lead),
    ];
    let (mut kept_out, mut in_) = (0, 0);
    for operation in operations() {
        let Some(scope) = operation.scope else { continue };
        for (role, user) in users {
            let answer = operation.call(user, &operation.nowhere()).await;
            if scope.roles.contains(&role) {
                let_in(&answer, &operation, &format!("{role:?}"));
                in_ += 1;
            } else {
                refused(answer, scope.name);
                kept_out += 1;
            }
        }
    }
    assert!(kept_out > 100 && in_ > 300, "{kept_out} kept out, {in_} let in");
}

#[tokio::test]
async fn a_token_counts_for_the_scopes_it_names_and_no_others() {
    let app = TestApp::start().await;
    for operation in operations() {
        let Some(scope) = operation.scope else { continue };
        let others: Vec<&str> =
            PERMISSIONS.iter().map(|it| it.name).filter(|name| *name != scope.name).collect();
        let without = app.narrowed(&app.lead, Role::Lead, &others.join(" "));
        refused(operation.call(&without, &operation.nowhere()).await, scope.name);
        let with = app.narrowed(&app.lead, Role::Lead, scope.name);
        let_in(&operation.call(&with, &operation.nowhere()).await, &operation, "a narrow token");
    }
}

#[tokio::test]
async fn a_scope_that_the_role_does_not_have_is_worth_nothing() {
    let app = TestApp::start().await;
    let all: Vec<&str> = PERMISSIONS.iter().map(|it| it.name).collect();
    let reader = app.narrowed(&app.read_only, Role::ReadOnly, &all.join(" "));
    // What a token says of the role counts no more than what the account is.
    let boasting = app.narrowed(&app.read_only, Role::Lead, &all.join(" "));
    for operation in operations() {
        let Some(scope) = operation.scope else { continue };
        if !scope.roles.contains(&Role::ReadOnly) {
            refused(operation.call(&reader, &operation.nowhere()).await, scope.name);
            refused(operation.call(&boasting, &operation.nowhere()).await, scope.name);
        }
    }
}
