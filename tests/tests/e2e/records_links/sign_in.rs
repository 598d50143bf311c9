//! Signing in at a records system.

use std::sync::{Arc, Mutex};

use actix_web::HttpResponse;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use tests::TestApp;

use super::land::{Land, link_to, system_of};
use super::stand_in::{Asked, StandIn};
use super::{Link, counts};

/// A system that gives tokens, and takes only those that it gave last.
struct Tokens {
    given: Vec<String>,
    expires_in: u32,
    good: bool,
}

async fn with_tokens(land: Land, expires_in: u32) -> (StandIn, Arc<Mutex<Tokens>>) {
    let tokens = Arc::new(Mutex::new(Tokens { given: Vec::new(), expires_in, good: true }));
    let shared = tokens.clone();
    let system = StandIn::start(move |asked| {
        let mut tokens = shared.lock().expect("a lock");
        if asked.path == "/oauth/token" {
            return tokens.give(asked);
        }
        let last = tokens.given.last().map(|token| format!("Bearer {token}"));
        if last.as_deref() != Some(asked.header("authorization")) {
            return HttpResponse::Unauthorized().finish();
        }
        land.answer(asked)
    })
    .await;
    (system, tokens)
}

impl Tokens {
    fn give(&mut self, asked: &Asked) -> HttpResponse {
        if !self.good {
            return HttpResponse::Unauthorized().json(json!({"error": "invalid_client"}));
        }
        assert_eq!((asked.method.as_str(), asked.header("accept")), ("POST", "application/json"));
        assert_eq!(asked.header("content-type"), "application/x-www-form-urlencoded");
        let token = format!("token-{}", self.given.len());
        self.given.push(token.clone());
        HttpResponse::Ok().json(json!({
            "access_token": token, "token_type": "bearer", "expires_in": self.expires_in
        }))
    }
}

fn link(system: &StandIn, more: Value) -> Value {
    let mut link = link_to(system);
    link["auth"] = json!({
        "kind": "client_credentials", "token_url": format!("{}/oauth/token", system.base),
        "client_id": "an id: with %", "secret": "a secret & more", "scope": "fields.read"
    });
    for (name, value) in more.as_object().expect("members") {
        link["auth"][name] = value.clone();
    }
    link
}

#[tokio::test]
async fn a_token_is_got_once_by_a_form_encoded_header() {
    let app = TestApp::start().await;
    let (system, tokens) = with_tokens(Land::with(6), 3600).await;
    let link = Link::make(&app.lead, &link(&system, json!({}))).await;
    let run = link.apply(&app).await;
    assert_eq!(counts(&run, "field")["created"], 6);
    assert_eq!(tokens.lock().expect("a lock").given.len(), 1);
    let asked = system.take();
    assert_eq!(asked[0].body, "grant_type=client_credentials&scope=fields.read");
    // RFC 6749, section 2.3.1: both are form-encoded before they are joined.
    let pair = STANDARD.encode("an+id%3A+with+%25:a+secret+%26+more");
    assert_eq!(asked[0].header("authorization"), format!("Basic {pair}"));
    system.stop().await;
}

#[tokio::test]
async fn id_and_secret_may_go_into_the_body() {
    let app = TestApp::start().await;
    let (system, _tokens) = with_tokens(Land::with(1), 3600).await;
    let link = Link::make(&app.lead, &link(&system, json!({"in_body": true}))).await;
    link.apply(&app).await;
    let asked = &system.take()[0];
    let form = "client_id=an+id%3A+with+%25&client_secret=a+secret+%26+more";
    assert_eq!(asked.body, format!("grant_type=client_credentials&scope=fields.read&{form}"));
    assert!(!asked.headers.contains_key("authorization"));
    system.stop().await;
}

#[tokio::test]
async fn a_token_that_is_refused_is_got_again_once() {
    let app = TestApp::start().await;
    let (system, tokens) = with_tokens(Land::with(6), 3600).await;
    let link = Link::make(&app.lead, &link(&system, json!({}))).await;
    let land = Land::with(6);
    let shared = tokens.clone();
    // The token dies on the way, at the second page of the fields.
    system.answers(move |asked| {
        let mut tokens = shared.lock().expect("a lock");
        if asked.path == "/oauth/token" {
            return tokens.give(asked);
        }
        let is_old = asked.header("authorization") == "Bearer token-0";
        if asked.query.get("page").is_some_and(|page| page == "2") && is_old {
            return HttpResponse::Unauthorized().finish();
        }
        land.answer(asked)
    });
    let run = link.apply(&app).await;
    assert_eq!(counts(&run, "field")["created"], 6);
    assert_eq!(tokens.lock().expect("a lock").given.len(), 2);

    let refuse = |asked: &Asked| match asked.path.as_str() {
        "/oauth/token" => {
            HttpResponse::Ok().json(json!({"access_token": "t", "token_type": "Bearer"}))
        }
        _ => HttpResponse::Unauthorized().finish(),
    };
    system.take();
    system.answers(refuse);
    assert_eq!(link.stopped(&app).await["code"], "sign_in_refused");
    let asked: Vec<String> = system.take().into_iter().map(|asked| asked.path).collect();
    assert_eq!(
        asked,
        ["/oauth/token", "/api/farms", "/oauth/token", "/api/farms"],
        "no endless tries"
    );
    system.stop().await;
}

#[tokio::test]
async fn a_token_that_expires_is_renewed_before_it_is_refused() {
    let app = TestApp::start().await;
    // Twenty seconds are too few to be used: each page asks for a token of its own.
    let (system, tokens) = with_tokens(Land::with(1), 15).await;
    let link = Link::make(&app.lead, &link(&system, json!({}))).await;
    counts(&link.apply(&app).await, "field");
    assert_eq!(tokens.lock().expect("a lock").given.len(), 3);
    system.stop().await;
}

#[tokio::test]
async fn what_is_no_token_is_said_in_words_without_a_secret() {
    let app = TestApp::start().await;
    let (system, tokens) = with_tokens(Land::with(1), 3600).await;
    let link = Link::make(&app.lead, &link(&system, json!({}))).await;
    tokens.lock().expect("a lock").good = false;
    let stopped = link.stopped(&app).await;
    assert_eq!(stopped["code"], "sign_in_refused");
    assert!(stopped["detail"].as_str().expect("why").contains("invalid_client"), "{stopped}");
    for answer in [
        json!({"access_token": "a\nb", "token_type": "Bearer"}),
        json!({"access_token": "a", "token_type": "mac"}),
        json!({"token_type": "Bearer"}),
        json!(["token"]),
    ] {
        let said = answer.clone();
        system.answers(move |_| HttpResponse::Ok().json(&said));
        assert_eq!(link.stopped(&app).await["code"], "sign_in_refused", "{answer}");
    }
    system.answers(|_| HttpResponse::BadRequest().body("a secret & more <script>"));
    let stopped = link.stopped(&app).await;
    assert!(!stopped.to_string().contains("script"), "{stopped}");
    system.stop().await;
}

#[tokio::test]
async fn a_key_stands_in_the_header_that_is_named() {
    let app = TestApp::start().await;
    let (system, _land) = system_of(Land::with(1)).await;
    let mut body = link_to(&system);
    body["auth"] = json!({"kind": "header", "name": "X-Key", "prefix": "Key ", "secret": "abcd"});
    let link = Link::make(&app.lead, &body).await;
    link.apply(&app).await;
    assert!(system.take().iter().all(|asked| asked.header("x-key") == "Key abcd"));
    link.change(&json!({"auth": {"kind": "basic", "user": "u", "secret": "p:w"}})).await;
    link.apply(&app).await;
    let pair = STANDARD.encode("u:p:w");
    assert!(
        system.take().iter().all(|asked| asked.header("authorization") == format!("Basic {pair}"))
    );
    system.stop().await;
}
