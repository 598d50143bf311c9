//! Access tokens that are not good, one by one: each is 401, says nothing of the inside, and none
//! writes anything.

use api::auth::token::{self, Claims};
use api::entities::growers;
use base64::Engine;
use base64::engine::general_purpose::{STANDARD, URL_SAFE_NO_PAD};
use chrono::TimeDelta;
use ed25519_dalek::SigningKey;
use ed25519_dalek::pkcs8::EncodePrivateKey;
use jsonwebtoken::{Algorithm, EncodingKey, Header};
use sea_orm::{EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::TestApp;

use super::sign_in;

/// A token that is good, taken apart.
struct Good {
    token: String,
    header: Header,
    claims: Claims,
    signing: EncodingKey,
    public: [u8; 32],
}

async fn good(app: &TestApp) -> Good {
    let session = sign_in(app, "lead").await;
    let token = session["access_token"].as_str().expect("a token").to_owned();
    let now = app.state().clock.now();
    let key = app.state().keys.signing(now).expect("a key");
    let issuer = app.state().settings.public_url.as_str();
    let claims = token::check(&token, &key, issuer, now).expect("claims");
    let header = jsonwebtoken::decode_header(&token).expect("a header");
    Good { token, header, claims, signing: key.signing, public: key.public }
}

impl Good {
    fn signed(&self, header: &Header, claims: &Value) -> String {
        jsonwebtoken::encode(header, claims, &self.signing).expect("signed")
    }

    /// Signed with our key, with one claim changed; `null` leaves it out.
    fn with(&self, claim: &str, value: Value) -> String {
        let mut claims = serde_json::to_value(&self.claims).expect("claims");
        let members = claims.as_object_mut().expect("an object");
        if value.is_null() {
            members.remove(claim).expect("a claim");
        } else {
            members.insert(claim.to_owned(), value);
        }
        self.signed(&self.header, &claims)
    }

    fn with_header(&self, change: impl FnOnce(&mut Header)) -> String {
        let mut header = self.header.clone();
        change(&mut header);
        self.signed(&header, &serde_json::to_value(&self.claims).expect("claims"))
    }

    /// The same claims, with another header and another last part.
    fn forged(&self, header: &Value, signature: impl FnOnce(&str) -> Vec<u8>) -> String {
        let claims = self.token.split('.').nth(1).expect("claims");
        let signed = format!("{}.{claims}", URL_SAFE_NO_PAD.encode(header.to_string()));
        let signature = URL_SAFE_NO_PAD.encode(signature(&signed));
        format!("{signed}.{signature}")
    }

    /// Signed by HMAC with a secret, as a library would that takes the algorithm from the header.
    fn hs256(&self, secret: &[u8]) -> String {
        let mut header = Header::new(Algorithm::HS256);
        (header.kid, header.typ) = (self.header.kid.clone(), self.header.typ.clone());
        let key = EncodingKey::from_secret(secret);
        jsonwebtoken::encode(&header, &self.claims, &key).expect("signed")
    }
}

async fn refused(app: &TestApp, why: &str, token: &str) {
    let user = app.nobody.with_token(token);
    let body = json!({"name": why});
    for answer in [user.get("/v1/growers").await, user.post("/v1/growers", &body).await] {
        assert_eq!(answer.status, 401, "{why}: {}", answer.text);
        let answer = answer.assert_problem(401, "unauthenticated");
        assert!(answer.header("www-authenticate").starts_with("Bearer"), "{why}");
        let detail = answer.json()["detail"].as_str().expect("detail").to_lowercase();
        for inside in ["json", "base64", "signature", "eddsa", "alg", "kid", "sql", "iss", "aud"] {
            let said = detail.split(|c: char| !c.is_alphanumeric()).any(|word| word == inside);
            assert!(!said, "{why}: {detail}");
        }
    }
}

#[tokio::test]
async fn the_claims_are_those_of_an_access_token() {
    let app = TestApp::start().await;
    let good = good(&app).await;
    assert_eq!(good.header.typ.as_deref(), Some("at+jwt"));
    assert_eq!(good.header.alg, Algorithm::EdDSA);
    let claims = serde_json::to_value(&good.claims).expect("claims");
    for claim in ["iss", "aud", "sub", "client_id", "iat", "exp", "nbf", "jti", "sid"] {
        assert!(!claims[claim].is_null(), "{claim}: {claims}");
    }
    assert_eq!(claims["sub"], app.lead.account_id.as_str());
    assert_eq!(good.claims.exp - good.claims.iat, 900);
    app.nobody.with_token(&good.token).get("/v1/growers").await.assert_status(200);
}

#[tokio::test]
async fn what_is_said_must_be_meant_for_us_and_now() {
    let app = TestApp::start().await;
    let good = good(&app).await;
    let now = app.state().clock.now().timestamp();
    for (why, claim, value) in [
        ("expired", "exp", json!(now - 31)),
        ("not yet valid", "nbf", json!(now + 31)),
        ("wrong audience", "aud", json!("another-api")),
        ("wrong issuer", "iss", json!("https://issuer.example")),
        ("no end", "exp", Value::Null),
        ("no begin", "nbf", Value::Null),
        ("no audience", "aud", Value::Null),
        ("no issuer", "iss", Value::Null),
        ("no subject", "sub", Value::Null),
        ("no client", "client_id", Value::Null),
        ("no id", "jti", Value::Null),
        ("no time of issue", "iat", Value::Null),
        ("a subject that is not there", "sub", json!("01964f1e-6a00-7000-8000-00000000ffff")),
        ("another practice", "practice", json!("01964f1e-6a00-7000-8000-00000000ffff")),
        ("the session of someone else", "sid", json!("01964f1e-6a00-7000-8000-00000000ffff")),
        ("a role that is none", "role", json!("owner")),
    ] {
        refused(&app, why, &good.with(claim, value)).await;
    }
    app.clock.advance(TimeDelta::seconds(929));
    app.nobody.with_token(&good.token).get("/v1/growers").await.assert_status(200);
    app.clock.advance(TimeDelta::seconds(1));
    refused(&app, "expired by the clock", &good.token).await;
    assert_eq!(growers::Entity::find().count(&app.state().db).await.expect("count"), 1);
}

/// RFC 8725, section 2.1: the algorithm follows from our key, never from the token.
#[tokio::test]
async fn the_header_does_not_choose_the_algorithm() {
    let app = TestApp::start().await;
    let good = good(&app).await;
    let kid = good.header.kid.clone();
    let header = |alg: &str| json!({"typ": "at+jwt", "alg": alg, "kid": kid});
    for none in ["none", "None", "NONE", "nOnE"] {
        refused(&app, none, &good.forged(&header(none), |_| Vec::new())).await;
        let parts: Vec<&str> = good.token.split('.').collect();
        let bare = URL_SAFE_NO_PAD.encode(header(none).to_string());
        refused(&app, none, &format!("{bare}.{}.", parts[1])).await;
        refused(&app, none, &format!("{bare}.{}.{}", parts[1], parts[2])).await;
    }
    // Key confusion: whoever reads our public key knows this "secret" in any of these forms.
    let x = URL_SAFE_NO_PAD.encode(good.public);
    let jwk = format!(r#"{{"crv":"Ed25519","kty":"OKP","x":"{x}"}}"#);
    let mut spki = vec![0x30, 0x2a, 0x30, 0x05, 0x06, 0x03, 0x2b, 0x65, 0x70, 0x03, 0x21, 0x00];
    spki.extend(good.public);
    let pem = format!(
        "-----BEGIN PUBLIC KEY-----\n{}\n-----END PUBLIC KEY-----\n",
        STANDARD.encode(&spki)
    );
    for secret in [&good.public[..], x.as_bytes(), jwk.as_bytes(), &spki, pem.as_bytes(), b""] {
        refused(&app, "HS256 with the public key", &good.hs256(secret)).await;
    }
    for alg in ["ES256", "RS256", "PS256", "eddsa", "EDDSA", "Ed25519", ""] {
        refused(&app, alg, &good.forged(&header(alg), |_| vec![0; 64])).await;
    }
}

#[tokio::test]
async fn only_our_key_signs_and_only_access_tokens_are_taken() {
    let app = TestApp::start().await;
    let good = good(&app).await;
    let other = SigningKey::from_bytes(&[7; 32]);
    let der = other.to_pkcs8_der().expect("der");
    let theirs = EncodingKey::from_ed_der(der.as_bytes());
    let signed = jsonwebtoken::encode(&good.header, &good.claims, &theirs).expect("signed");
    refused(&app, "signed with another key under our name", &signed).await;
    let inside = json!({
        "typ": "at+jwt", "alg": "EdDSA", "kid": good.header.kid,
        "jwk": {"kty": "OKP", "crv": "Ed25519", "x": URL_SAFE_NO_PAD.encode(other.verifying_key())}
    });
    let with_own_key = good.forged(&inside, |signed| {
        use ed25519_dalek::Signer;
        other.sign(signed.as_bytes()).to_bytes().to_vec()
    });
    refused(&app, "brings its own key", &with_own_key).await;
    for typ in [Some("JWT"), Some("id+jwt"), Some("at+jwt2"), Some(""), None] {
        let token = good.with_header(|header| header.typ = typ.map(str::to_owned));
        refused(&app, "another type", &token).await;
    }
    for kid in [None, Some(""), Some("../../etc/passwd"), Some("' OR 1=1 --")] {
        let token = good.with_header(|header| header.kid = kid.map(str::to_owned));
        refused(&app, "another name", &token).await;
    }
    for typ in ["AT+JWT", "application/at+jwt"] {
        let token = good.with_header(|header| header.typ = Some(typ.to_owned()));
        app.nobody.with_token(&token).get("/v1/growers").await.assert_status(200);
    }
}

#[tokio::test]
async fn what_is_broken_or_far_too_long_is_refused() {
    let app = TestApp::start().await;
    let good = good(&app).await;
    let token = good.token.as_str();
    for at in [1, 10, token.len() / 2, token.len() - 1] {
        refused(&app, "truncated", &token[..at]).await;
    }
    let parts: Vec<&str> = token.split('.').collect();
    for text in [
        format!("{}.{}", parts[0], parts[1]),
        format!("{token}.x"),
        format!("{token}="),
        format!("..{}", parts[2]),
        "a.b.c".to_owned(),
        "...".to_owned(),
        format!("{}.{}.{}", parts[0], parts[2], parts[1]),
    ] {
        refused(&app, "broken", &text).await;
    }
    for at in 0..64 {
        let mut signature = URL_SAFE_NO_PAD.decode(parts[2]).expect("a signature");
        signature[at] ^= 1;
        let changed = format!("{}.{}.{}", parts[0], parts[1], URL_SAFE_NO_PAD.encode(signature));
        let answer = app.nobody.with_token(&changed).get("/v1/growers").await;
        answer.assert_problem(401, "unauthenticated");
    }
    let long = good.with("scope", json!("read ".repeat(1000)));
    assert!(long.len() > 4096);
    refused(&app, "far too long", &long).await;
    refused(&app, "far too long", &"x".repeat(5000)).await;
}
