//! Which account a token leads to.

use serde_json::{Value, json};
use tests::TestApp;

use super::{Outside, Signer, StandIn, entry};

fn refused(status: u16) -> bool {
    status == 401
}

#[tokio::test]
async fn a_subject_is_bound_at_first_use_by_its_verified_address() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let bare = json!({"email": null, "email_verified": null});
    let before = outside.token_with(&issuer, &signer, bare.clone());
    assert!(refused(outside.ask(&before).await.status), "nobody is known by the subject yet");
    outside.ask(&outside.token(&issuer, &signer)).await.assert_status(200);
    let after = outside.token_with(&issuer, &signer, bare);
    outside.ask(&after).await.assert_status(200);
    let user = outside.app.nobody.with_token(&after).at(&outside.base);
    let me = user.get("/v1/accounts/me").await.assert_status(200).json();
    assert_eq!(me["id"], outside.app.advisor.account_id.as_str());
    let moved = outside.token_with(&issuer, &signer, json!({"email": "lead@example.org"}));
    let user = outside.app.nobody.with_token(&moved).at(&outside.base);
    let me = user.get("/v1/accounts/me").await.assert_status(200).json();
    assert_eq!(me["id"], outside.app.advisor.account_id.as_str(), "the subject counts");
    outside.stop().await;
}

#[tokio::test]
async fn an_address_that_is_given_to_another_does_not_take_the_account_along() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    outside.ask(&outside.token(&issuer, &signer)).await.assert_status(200);
    let other = outside.token_with(&issuer, &signer, json!({"sub": "somebody else"}));
    outside.ask(&other).await.assert_problem(401, "unauthenticated");
    outside.ask(&outside.token(&issuer, &signer)).await.assert_status(200);
    outside.stop().await;
}

#[tokio::test]
async fn an_address_that_is_not_verified_or_not_of_the_practice_leads_nowhere() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    for claims in [
        json!({"email_verified": false}),
        json!({"email_verified": "true"}),
        json!({"email_verified": null}),
        json!({"email": "nobody@example.org"}),
        json!({"email": "stranger@example.org"}),
    ] {
        let token = outside.token_with(&issuer, &signer, claims.clone());
        let answer = outside.ask(&token).await;
        assert!(refused(answer.status), "{claims}: {}", answer.text);
    }
    outside.stop().await;
}

#[tokio::test]
async fn the_account_of_a_machine_is_not_to_be_had_from_outside() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let body = json!({"name": "Records", "role": "records_system", "scopes": ["read"]});
    let made = outside.app.lead.post("/v1/machine-clients", &body).await.assert_status(201).json();
    let id = made["client"]["id"].as_str().expect("an id");
    let email = format!("{id}@account.invalid");
    let token = outside.token_with(&issuer, &signer, json!({"email": email}));
    outside.ask(&token).await.assert_problem(401, "unauthenticated");
    outside.stop().await;
}

#[tokio::test]
async fn what_the_account_may_do_counts_not_what_the_token_says() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let claims = json!({
        "sub": "reader", "email": "reader@example.org", "role": "lead", "scope": "manage advise"
    });
    let token = outside.token_with(&issuer, &signer, claims);
    let user = outside.app.nobody.with_token(&token).at(&outside.base);
    user.get("/v1/growers").await.assert_status(200);
    user.post("/v1/growers", &json!({"name": "A"})).await.assert_problem(403, "forbidden");
    outside.stop().await;
}

#[tokio::test]
async fn a_service_does_not_start_with_issuers_that_can_not_be() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let wrong = |change: Value| {
        let name = issuer.name();
        async move {
            let app = TestApp::start().await;
            let entry = entry(&app, &name, &change);
            Outside::on(app, &json!({"issuers": [entry]})).await.err()
        }
    };
    for change in [
        json!({"practice_id": "01964f1e-6a00-7000-8000-00000000ffff"}),
        json!({"algorithms": ["HS256"]}),
        json!({"issuer": "http://login.example.org"}),
        json!({"audiences": "x"}),
    ] {
        assert!(wrong(change.clone()).await.is_some(), "{change}");
    }
    assert_eq!(wrong(json!({})).await, None);
}
