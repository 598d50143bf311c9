//! `POST /oauth/token`: every rule of RFC 6749 that a client meets.

use base64::Engine;
use base64::engine::general_purpose::{STANDARD, URL_SAFE_NO_PAD};
use serde_json::{Value, json};
use tests::{Answer, TestApp};

use super::{ask, make, records};

/// The claims of a token, unchecked.
fn claims(token: &str) -> Value {
    let payload = token.split('.').nth(1).expect("three parts");
    serde_json::from_slice(&URL_SAFE_NO_PAD.decode(payload).expect("base64url")).expect("JSON")
}

/// Fails unless this is the error of RFC 6749, section 5.2, and nothing may keep it.
#[track_caller]
fn assert_error(answer: Answer, status: u16, error: &str) -> Answer {
    let answer = answer.assert_status(status);
    let body = answer.json();
    assert_eq!(body["error"], error, "{body}");
    assert!(body["error_description"].as_str().is_some_and(|text| !text.is_empty()), "{body}");
    assert_eq!(answer.header("content-type"), "application/json");
    assert_eq!(answer.header("cache-control"), "no-store");
    assert_eq!(answer.has_header("www-authenticate"), status == 401);
    answer
}

fn basic(id: &str, secret: &str) -> String {
    format!("Basic {}", STANDARD.encode(format!("{id}:{secret}")))
}

#[tokio::test]
async fn a_token_says_whose_it_is_and_what_it_may_do() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let answer = ask(&app, &[], &client.form("")).await.assert_status(200);
    assert_eq!(answer.header("cache-control"), "no-store");
    assert_eq!(answer.header("pragma"), "no-cache");
    let body = answer.json();
    assert_eq!(body["token_type"], "Bearer");
    assert_eq!(body["scope"], "read keep");
    assert!(body.get("refresh_token").is_none());
    let token = body["access_token"].as_str().expect("a token");
    let claims = claims(token);
    assert_eq!(claims["client_id"], client.id.as_str());
    assert_eq!(claims["scope"], "read keep");
    assert_eq!(claims["role"], "records_system");
    assert!(claims.get("sid").is_none());
    let lasts = claims["exp"].as_i64().zip(claims["iat"].as_i64()).map(|(end, start)| end - start);
    assert_eq!(lasts, body["expires_in"].as_i64());

    let machine = app.nobody.with_token(token);
    machine.get("/v1/growers").await.assert_status(200);
    machine.create("/v1/growers", &json!({"name": "Kept by a machine"})).await;
    let link = json!({"grower_id": app.own_grower_id});
    machine.post("/v1/access-links", &link).await.assert_problem(403, "forbidden");
    app.clock.advance(chrono::TimeDelta::seconds(lasts.expect("times") + 31));
    machine.get("/v1/growers").await.assert_problem(401, "unauthenticated");
}

#[tokio::test]
async fn a_token_with_fewer_scopes_may_do_less() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let reader = app.nobody.with_token(&client.token(&app, "&scope=read").await);
    reader.get("/v1/growers").await.assert_status(200);
    let grower = json!({"name": "A"});
    reader.post("/v1/growers", &grower).await.assert_problem(403, "forbidden");
    let keeper = app.nobody.with_token(&client.token(&app, "&scope=keep").await);
    keeper.post("/v1/growers", &grower).await.assert_status(201);
    keeper.get("/v1/growers").await.assert_problem(403, "forbidden");
}

#[tokio::test]
async fn credentials_come_by_basic_or_in_the_form_and_not_both() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let right = basic(&client.id, &client.secret);
    let grant = "grant_type=client_credentials";
    ask(&app, &[("authorization", &right)], grant).await.assert_status(200);
    let written = basic(&client.id.replace('-', "%2D"), &client.secret);
    ask(&app, &[("authorization", &written)], grant).await.assert_status(200);
    let named = format!("{grant}&client_id={}", client.id);
    ask(&app, &[("authorization", &right)], &named).await.assert_status(200);

    let both = ask(&app, &[("authorization", &right)], &client.form("")).await;
    assert_error(both, 400, "invalid_request");
    let other = format!("{grant}&client_id=another");
    let two = ask(&app, &[("authorization", &right)], &other).await;
    assert_error(two, 400, "invalid_request");
    for header in ["Basic", "Basic !!!", "Bearer abc", &basic(&client.id, "wrong"), &basic("", "")]
    {
        let answer = ask(&app, &[("authorization", header)], grant).await;
        let answer = assert_error(answer, 401, "invalid_client");
        assert!(answer.header("www-authenticate").starts_with("Basic realm="));
    }
    assert_error(ask(&app, &[], grant).await, 401, "invalid_client");
    assert_error(ask(&app, &[], &named).await, 401, "invalid_client");
}

#[tokio::test]
async fn a_wrong_form_has_the_error_of_the_standard() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let twice = client.form("&client_id=again");
    let long = client.form(&format!("&x={}", "x".repeat(9000)));
    for form in ["", "scope=read", "grant_type=", &twice, &long] {
        assert_error(ask(&app, &[], form).await, 400, "invalid_request");
    }
    for grant in ["password", "authorization_code", "refresh_token", "CLIENT_CREDENTIALS"] {
        let form = client.form("").replace("client_credentials", grant);
        assert_error(ask(&app, &[], &form).await, 400, "unsupported_grant_type");
    }
    for scope in ["advise", "read+advise", "read++keep", "READ", "manage", "%22"] {
        let answer = ask(&app, &[], &client.form(&format!("&scope={scope}"))).await;
        assert_error(answer, 400, "invalid_scope");
    }
    client.token(&app, "&scope=").await; // without a value it counts as absent
    client.token(&app, "&resource=unknown").await; // what is unknown is passed over

    let json = [("content-type", "application/json")];
    let body = json!({"grant_type": "client_credentials"}).to_string();
    let answer = app.nobody.send_text("POST", "/oauth/token", &json, Some(body)).await;
    assert_error(answer, 400, "invalid_request");
    let path = format!("/oauth/token?{}", client.form(""));
    let headers = [("content-type", "application/x-www-form-urlencoded")];
    let answer = app.nobody.send_text("POST", &path, &headers, Some(client.form(""))).await;
    assert_error(answer, 400, "invalid_request");
}

#[tokio::test]
async fn an_unknown_client_and_a_wrong_secret_get_one_answer() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let other = make(&app, "B", "read_only", &["read"]).await;
    let form = |id: &str, secret: &str| {
        format!("grant_type=client_credentials&client_id={id}&client_secret={secret}")
    };
    let mut bodies = Vec::new();
    for (id, secret) in [
        (client.id.as_str(), "wrong"),
        (client.id.as_str(), other.secret.as_str()),
        ("01964f1e-6a00-7000-8000-00000000ffff", client.secret.as_str()),
        ("no-uuid", client.secret.as_str()),
    ] {
        let answer = ask(&app, &[], &form(id, secret)).await;
        bodies.push(assert_error(answer, 401, "invalid_client").text);
    }
    assert!(bodies.windows(2).all(|pair| pair[0] == pair[1]), "{bodies:?}");
}

#[tokio::test]
async fn after_five_wrong_secrets_wrong_ones_wait_and_the_right_one_does_not() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let wrong = client.form("").replace(&client.secret, "wrong");
    for _ in 0..5 {
        assert_error(ask(&app, &[], &wrong).await, 401, "invalid_client");
    }
    let waits = assert_error(ask(&app, &[], &wrong).await, 429, "slow_down");
    assert_eq!(waits.header("retry-after"), "900");
    client.token(&app, "").await;
    app.clock.advance(chrono::TimeDelta::minutes(15));
    assert_error(ask(&app, &[], &wrong).await, 401, "invalid_client");
}

#[tokio::test]
async fn a_client_that_is_disabled_or_deleted_is_out_at_once() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let machine = app.nobody.with_token(&client.token(&app, "").await);
    let disable = |yes: bool| json!({"disabled": yes});
    app.lead.patch(&client.path(), "*", &disable(true)).await.assert_status(200);
    machine.get("/v1/growers").await.assert_problem(401, "unauthenticated");
    assert_error(ask(&app, &[], &client.form("")).await, 401, "invalid_client");
    let back = app.lead.patch(&client.path(), "*", &disable(false)).await.assert_status(200);
    assert_eq!(back.json()["disabled"], false);
    machine.get("/v1/growers").await.assert_status(200);
    app.lead.delete(&client.path()).await.assert_status(204);
    machine.get("/v1/growers").await.assert_problem(401, "unauthenticated");
    assert_error(ask(&app, &[], &client.form("")).await, 401, "invalid_client");
}

#[tokio::test]
async fn fewer_scopes_hold_from_the_next_token_on() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    app.lead.patch(&client.path(), "*", &json!({"scopes": ["read"]})).await.assert_status(200);
    let answer = ask(&app, &[], &client.form("&scope=keep")).await;
    assert_error(answer, 400, "invalid_scope");
    let got = ask(&app, &[], &client.form("")).await.assert_status(200).json();
    assert_eq!(got["scope"], "read");
}

#[tokio::test]
async fn the_metadata_leads_to_the_token_endpoint() {
    let app = TestApp::start_with(|settings| {
        settings.public_url = "https://dibble.example.org".parse().expect("a URL");
    })
    .await;
    let path = "/.well-known/oauth-authorization-server";
    let body = app.nobody.get(path).await.assert_status(200).json();
    assert_eq!(body["issuer"], "https://dibble.example.org");
    let token = app.lead.token.as_deref().expect("a token");
    assert_eq!(claims(token)["iss"], body["issuer"], "who checks tokens goes by the metadata");
    app.lead.get("/v1/accounts/me").await.assert_status(200);
    assert_eq!(body["token_endpoint"], "https://dibble.example.org/oauth/token");
    assert_eq!(body["jwks_uri"], "https://dibble.example.org/.well-known/jwks.json");
    assert_eq!(body["grant_types_supported"], json!(["client_credentials"]));
    assert_eq!(body["response_types_supported"], json!([]));
    assert_eq!(body["scopes_supported"], json!(["read", "keep", "report", "connect"]));
    let there = body["jwks_uri"].as_str().expect("an address").trim_start_matches("https://");
    let there = there.trim_start_matches("dibble.example.org");
    let keys = app.nobody.get(there).await.assert_status(200).json();
    assert!(keys["keys"].as_array().is_some_and(|keys| !keys.is_empty()), "{keys}");
}
