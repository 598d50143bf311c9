//! The keys of access tokens: published, exchanged without sign-outs, and not asked for too often.

use api::app::{App, Config, Running};
use api::auth::keys;
use api::auth::token::{self, Granted, Subject};
use api::entities::accounts;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use chrono::TimeDelta;
use ed25519_dalek::{Signature, VerifyingKey};
use sea_orm::EntityTrait;
use serde_json::{Value, json};
use tests::{TestApp, User};

use crate::sessions::{refresh, sign_in, user};

const JWKS: &str = "/.well-known/jwks.json";

async fn another(app: &TestApp) -> Running {
    let config = Config::with_clock(app.state().settings.clone(), app.clock.clone());
    App::build(config).await.expect("a second process")
}

fn at(app: &TestApp, running: &Running) -> User {
    app.nobody.at(&format!("http://{}", running.address))
}

async fn published(nobody: &User) -> Vec<String> {
    let set = nobody.get(JWKS).await.assert_status(200).json();
    let keys = set["keys"].as_array().expect("keys");
    keys.iter().map(|key| key["kid"].as_str().expect("a name").to_owned()).collect()
}

fn kid_of(session: &Value) -> String {
    let token = session["access_token"].as_str().expect("a token");
    jsonwebtoken::decode_header(token).expect("a header").kid.expect("a name")
}

async fn rotate(app: &TestApp, published_for: TimeDelta) -> String {
    let now = app.state().clock.now();
    let lifetime = TimeDelta::seconds(900);
    let signs_from = now + published_for;
    keys::rotate(&app.state().db, now, signs_from, lifetime).await.expect("a new key")
}

/// A token that another process signed with the newest key.
async fn signed_elsewhere(app: &TestApp, running: &Running) -> String {
    let accounts = accounts::Entity::find().all(&app.state().db).await.expect("accounts");
    let lead = accounts.iter().find(|row| app.lead.account_id == row.id.to_string());
    let state = &running.state;
    let now = state.clock.now();
    let key = state.keys.signing(now).expect("a key");
    let subject = Subject::of(lead.expect("the lead"));
    let lifetime = TimeDelta::minutes(15);
    let issuer = state.settings.public_url.as_str();
    token::sign(&key, issuer, subject, Granted::default(), state.ids.next(), now, lifetime)
        .expect("signed")
}

/// As somebody does who knows nothing of us but the address of the set.
#[tokio::test]
async fn a_token_is_checked_with_nothing_but_the_published_key() {
    let app = TestApp::start().await;
    let session = sign_in(&app, "advisor").await;
    let answer = app.nobody.get(JWKS).await.assert_status(200);
    assert_eq!(answer.header("cache-control"), "public, max-age=300");
    assert_eq!(answer.header("content-type"), "application/json");
    let set = answer.json();
    let [key] = set["keys"].as_array().expect("keys").as_slice() else { panic!("{set}") };
    let mut members: Vec<&String> = key.as_object().expect("a key").keys().collect();
    members.sort();
    assert_eq!(members, ["alg", "crv", "kid", "kty", "use", "x"], "nothing private");
    assert_eq!((&key["kty"], &key["crv"]), (&json!("OKP"), &json!("Ed25519")));
    assert_eq!((&key["alg"], &key["use"]), (&json!("EdDSA"), &json!("sig")));
    assert_eq!(key["kid"], kid_of(&session));

    let x = URL_SAFE_NO_PAD.decode(key["x"].as_str().expect("x")).expect("base64url");
    let public = VerifyingKey::from_bytes(&x.try_into().expect("32 bytes")).expect("a point");
    let token = session["access_token"].as_str().expect("a token");
    let (signed, signature) = token.rsplit_once('.').expect("a signature");
    let signature = URL_SAFE_NO_PAD.decode(signature).expect("base64url");
    let signature = Signature::from_slice(&signature).expect("64 bytes");
    public.verify_strict(signed.as_bytes(), &signature).expect("the signature fits");
    assert!(public.verify_strict(b"something else", &signature).is_err());
}

#[tokio::test]
async fn a_new_key_is_published_first_then_signs_and_nobody_is_signed_out() {
    let app = TestApp::start().await;
    let other = another(&app).await;
    let there = at(&app, &other);
    let session = sign_in(&app, "grower").await;
    let old = kid_of(&session);
    let new = rotate(&app, TimeDelta::minutes(10)).await;

    // Both processes notice within a minute, and publish the new key before it signs.
    app.clock.advance(TimeDelta::seconds(60));
    for nobody in [&app.nobody, &there] {
        assert_eq!(published(nobody).await, [new.clone(), old.clone()]);
    }
    let before = refresh(&app.nobody, &session).await.assert_status(200).json();
    assert_eq!(kid_of(&before), old, "its turn has not come");

    app.clock.advance(TimeDelta::minutes(9));
    let after = refresh(&there, &before).await.assert_status(200).json();
    assert_eq!(kid_of(&after), new);
    for token in [&before, &after] {
        for nobody in [&app.nobody, &there] {
            let token = token["access_token"].as_str().expect("a token");
            nobody.with_token(token).get("/v1/growers").await.assert_status(200);
        }
    }

    // The old key goes by itself when the last token that it signed has expired.
    app.clock.advance(TimeDelta::minutes(15));
    assert_eq!(published(&app.nobody).await, [new.clone(), old.clone()]);
    app.clock.advance(TimeDelta::minutes(1));
    assert_eq!(published(&app.nobody).await, [new]);
    let later = refresh(&app.nobody, &after).await.assert_status(200).json();
    user(&app, &later).get("/v1/growers").await.assert_status(200);
    assert_eq!(later["id"], session["id"], "one session all the time");
    other.stop().await.expect("a good end");
}

#[tokio::test]
async fn a_key_that_someone_may_have_is_out_at_once_and_sessions_stay() {
    let app = TestApp::start().await;
    let session = sign_in(&app, "grower").await;
    let old = kid_of(&session);
    let (db, now) = (&app.state().db, app.state().clock.now());
    let made = keys::retire(db, now, &old).await.expect("retired").expect("a new one");
    app.clock.advance(TimeDelta::seconds(60));
    assert_eq!(published(&app.nobody).await, std::slice::from_ref(&made));
    user(&app, &session).get("/v1/growers").await.assert_problem(401, "unauthenticated");
    let next = refresh(&app.nobody, &session).await.assert_status(200).json();
    assert_eq!(kid_of(&next), made);
    user(&app, &next).get("/v1/growers").await.assert_status(200);
    assert!(keys::retire(db, now, &old).await.is_err(), "once is enough");
}

#[tokio::test]
async fn a_key_made_by_another_process_is_looked_for_but_not_more_than_once_in_ten_seconds() {
    let app = TestApp::start().await;
    let new = rotate(&app, TimeDelta::zero()).await;
    let other = another(&app).await;
    let token = signed_elsewhere(&app, &other).await;
    let known = app.nobody.with_token(&token);
    assert_eq!(jsonwebtoken::decode_header(&token).expect("header").kid, Some(new));

    // A flood of made-up names: the first has the keys read anew, the others do not.
    let renamed = |kid: &str| {
        let header = json!({"typ": "at+jwt", "alg": "EdDSA", "kid": kid}).to_string();
        let rest = token.split_once('.').expect("parts").1;
        app.nobody.with_token(&format!("{}.{rest}", URL_SAFE_NO_PAD.encode(header)))
    };
    renamed("made-up-0").get("/v1/growers").await.assert_problem(401, "unauthenticated");
    known.get("/v1/growers").await.assert_status(200);

    let newer = rotate(&app, TimeDelta::zero()).await;
    let third = another(&app).await;
    let token = signed_elsewhere(&app, &third).await;
    let unseen = app.nobody.with_token(&token);
    for n in 1..50 {
        let answer = renamed(&format!("made-up-{n}")).get("/v1/growers").await;
        answer.assert_problem(401, "unauthenticated");
    }
    let early = unseen.get("/v1/growers").await;
    early.assert_problem(401, "unauthenticated");
    app.clock.advance(TimeDelta::seconds(10));
    // A name that was looked for in vain does not take the turn of others.
    renamed("made-up-0").get("/v1/growers").await.assert_problem(401, "unauthenticated");
    unseen.get("/v1/growers").await.assert_status(200);
    assert_eq!(published(&app.nobody).await.first(), Some(&newer));
    for running in [other, third] {
        running.stop().await.expect("a good end");
    }
}
