//! Without a token, or with one that is not good.

use tests::TestApp;

use super::document::operations;

/// Operations that need no caller. Each of them is a way in, or says nothing about anyone.
const PUBLIC: &[&str] = &[
    "create_session",
    "get_authorization_server",
    "get_json_web_keys",
    "get_liveness",
    "get_problem_type",
    "get_readiness",
    "issue_token",
    "redeem_access_link",
    "redeem_password_link",
    "refresh_session",
];

#[tokio::test]
async fn without_a_token_every_operation_but_the_public_ones_is_401() {
    let app = TestApp::start().await;
    let mut public = Vec::new();
    for operation in operations() {
        let answer = operation.call(&app.nobody, &operation.nowhere()).await;
        if operation.scope.is_none() {
            assert_ne!(answer.json()["code"], "unauthenticated", "{}", operation.id);
            public.push(operation.id);
        } else {
            let answer = answer.assert_problem(401, "unauthenticated");
            assert_eq!(answer.header("www-authenticate"), "Bearer", "{}", operation.id);
        }
    }
    public.sort_unstable();
    assert_eq!(public, PUBLIC);
}

#[tokio::test]
async fn with_a_token_that_is_not_good_every_operation_is_401_and_says_so() {
    let app = TestApp::start().await;
    let good = app.lead.token.clone().expect("a token");
    let (signed, _) = good.rsplit_once('.').expect("a signature");
    for token in ["no token at all".to_owned(), format!("{signed}.AAAA")] {
        let user = app.nobody.with_token(&token);
        for operation in operations().into_iter().filter(|it| it.scope.is_some()) {
            let answer = operation.call(&user, &operation.nowhere()).await;
            let answer = answer.assert_problem(401, "unauthenticated");
            let challenge = answer.header("www-authenticate");
            assert_eq!(challenge, "Bearer error=\"invalid_token\"", "{}", operation.id);
        }
    }
}
