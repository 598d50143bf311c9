//! Tokens that are good, and all the ways in which one is not.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use jsonwebtoken::{Algorithm, EncodingKey, Header};
use serde_json::{Value, json};

use super::{Outside, Signer, StandIn, claims_for};

#[tokio::test]
async fn claims_that_are_not_as_they_must_be_are_refused() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let now = outside.app.state().clock.now().timestamp();
    for claims in [
        json!({"aud": "another"}),
        json!({"aud": null}),
        json!({"aud": []}),
        json!({"aud": ["another"]}),
        json!({"aud": [super::AUDIENCE, "another"]}),
        json!({"azp": "another"}),
        json!({"exp": now - 31}),
        json!({"exp": null}),
        json!({"exp": "soon"}),
        json!({"nbf": now + 31}),
        json!({"iat": now + 31}),
        json!({"iat": null}),
        json!({"sub": null}),
        json!({"sub": ""}),
        json!({"sub": "x".repeat(256)}),
        json!({"sub": 7}),
        json!({"iss": "https://nobody.example"}),
        json!({"iss": format!("{}/", issuer.name())}),
        json!({"iss": "dibble"}),
    ] {
        let token = outside.token_with(&issuer, &signer, claims.clone());
        let answer = outside.ask(&token).await;
        assert_eq!(answer.status, 401, "{claims}: {}", answer.text);
        answer.assert_problem(401, "unauthenticated");
    }
    for claims in [
        json!({}),
        json!({"aud": [super::AUDIENCE]}),
        json!({"aud": [super::AUDIENCE, "another"], "azp": super::AUDIENCE}),
        json!({"exp": now - 29}),
        json!({"nbf": now + 29}),
    ] {
        let token = outside.token_with(&issuer, &signer, claims.clone());
        assert_eq!(outside.ask(&token).await.status, 200, "{claims}");
    }
    outside.stop().await;
}

#[tokio::test]
async fn a_header_that_is_not_as_it_must_be_is_refused() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let claims = claims_for(&outside.app, &issuer, json!({}));
    let good = signer.header();
    let typed = |typ: Option<&str>| Header { typ: typ.map(str::to_owned), ..good.clone() };
    for header in [
        typed(Some("JWT")),
        typed(Some("id+jwt")),
        typed(None),
        Header { kid: None, ..good.clone() },
        Header { kid: Some("../a".to_owned()), ..good.clone() },
        Header { crit: Some(vec!["exp".to_owned()]), ..good.clone() },
    ] {
        let token = signer.sign_with(&header, &claims);
        let answer = outside.ask(&token).await;
        assert_eq!(answer.status, 401, "{header:?}: {}", answer.text);
    }
    outside
        .ask(&signer.sign_with(&typed(Some("application/at+jwt")), &claims))
        .await
        .assert_status(200);
    outside.stop().await;
}

#[tokio::test]
async fn plain_tokens_are_taken_where_the_settings_say_so() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::with(&[&issuer], json!({"token_types": ["JWT"]})).await;
    let claims = claims_for(&outside.app, &issuer, json!({}));
    for (typ, status) in [(Some("JWT"), 200), (None, 200), (Some("at+jwt"), 401)] {
        let header = Header { typ: typ.map(str::to_owned), ..signer.header() };
        let answer = outside.ask(&signer.sign_with(&header, &claims)).await;
        assert_eq!(answer.status, status, "{typ:?}: {}", answer.text);
    }
    outside.stop().await;
}

#[tokio::test]
async fn only_parties_of_the_settings_are_taken() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::with(&[&issuer], json!({"authorized_parties": ["phone"]})).await;
    for (claims, status) in [
        (json!({"azp": "phone"}), 200),
        (json!({"client_id": "phone"}), 200),
        (json!({"azp": super::AUDIENCE}), 401),
        (json!({"client_id": "desk"}), 401),
    ] {
        let token = outside.token_with(&issuer, &signer, claims.clone());
        assert_eq!(outside.ask(&token).await.status, status, "{claims}");
    }
    outside.stop().await;
}

/// A token of another algorithm, for the same key: the public key as a secret, and no key at all.
#[tokio::test]
async fn an_algorithm_that_does_not_fit_the_key_is_refused() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    outside.ask(&outside.token(&issuer, &signer)).await.assert_status(200);
    let claims = claims_for(&outside.app, &issuer, json!({}));
    let public = URL_SAFE_NO_PAD.encode(signer.public());
    for secret in [signer.public().to_vec(), public.into_bytes()] {
        let header = Header { alg: Algorithm::HS256, ..signer.header() };
        let key = EncodingKey::from_secret(&secret);
        let token = jsonwebtoken::encode(&header, &claims, &key).expect("a token");
        outside.ask(&token).await.assert_problem(401, "unauthenticated");
    }
    let good = outside.token(&issuer, &signer);
    let parts: Vec<&str> = good.split('.').collect();
    let headed = |alg: &str| {
        URL_SAFE_NO_PAD.encode(json!({"alg": alg, "typ": "at+jwt", "kid": "a"}).to_string())
    };
    for alg in ["none", "None", "RS256", "ES256", "PS256"] {
        for signature in ["", parts[2]] {
            let token = format!("{}.{}.{signature}", headed(alg), parts[1]);
            let answer = outside.ask(&token).await;
            assert_eq!(answer.status, 401, "{alg}: {}", answer.text);
        }
    }
    outside.stop().await;
}

#[tokio::test]
async fn an_issuer_may_use_only_the_algorithms_of_the_settings() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::with(&[&issuer], json!({"algorithms": ["RS256"]})).await;
    outside.ask(&outside.token(&issuer, &signer)).await.assert_problem(401, "unauthenticated");
    assert_eq!(issuer.asked(), 0, "there was nothing to ask for");
    outside.stop().await;
}

#[tokio::test]
async fn a_key_of_one_issuer_never_checks_a_token_of_another() {
    let (one, two) = (Signer::new("same", 1), Signer::new("same", 2));
    let (first, second) = (StandIn::start(&one).await, StandIn::start(&two).await);
    let outside = Outside::with(&[&first, &second], json!({})).await;
    outside.ask(&outside.token(&first, &one)).await.assert_status(200);
    outside.ask(&outside.token(&second, &two)).await.assert_status(200);
    for token in [outside.token(&first, &two), outside.token(&second, &one)] {
        outside.ask(&token).await.assert_problem(401, "unauthenticated");
    }
    outside.stop().await;
}

#[tokio::test]
async fn a_token_that_was_cut_changed_or_blown_up_is_refused() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let good = outside.token(&issuer, &signer);
    let cut = &good[..good.len() - 3];
    let payload = good.split('.').nth(1).expect("a payload").to_owned();
    let mut claims: Value =
        serde_json::from_slice(&URL_SAFE_NO_PAD.decode(&payload).expect("base64url"))
            .expect("JSON");
    claims["sub"] = json!("lead-outside");
    claims["email"] = json!("lead@example.org");
    let changed = good.replace(&payload, &URL_SAFE_NO_PAD.encode(claims.to_string()));
    let large = outside.token_with(&issuer, &signer, json!({"more": "x".repeat(20_000)}));
    let more = format!("{good}.{}", URL_SAFE_NO_PAD.encode("more"));
    for token in [cut, &changed, &more, "..", "a.b.c"] {
        outside.ask(token).await.assert_problem(401, "unauthenticated");
    }
    let answer = outside.ask(&large).await;
    assert!([400, 401, 431].contains(&answer.status), "{}: {}", answer.status, answer.text);
    outside.ask(&good).await.assert_status(200);
    outside.stop().await;
}

/// A process without the setting knows no outside issuer.
#[tokio::test]
async fn without_the_setting_no_outside_token_is_taken() {
    let signer = Signer::new("a", 1);
    let issuer = StandIn::start(&signer).await;
    let outside = Outside::start(&issuer).await;
    let token = outside.token(&issuer, &signer);
    let plain = outside.app.nobody.with_token(&token).get("/v1/growers").await;
    plain.assert_problem(401, "unauthenticated");
    assert_eq!(issuer.asked(), 0);
    outside.stop().await;
}
