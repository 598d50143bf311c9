//! Access tokens: JWT as in RFC 9068, signed with Ed25519, and nothing else taken.

use chrono::{DateTime, TimeDelta, Utc};
use jsonwebtoken::{Algorithm, Header, Validation};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::keys::Key;
use super::role::Role;
use crate::app::AppState;
use crate::entities::accounts;
use crate::http::ApiError;

/// What stands for the programs of people, who are no machine clients.
const OWN_CLIENT: &str = "dibble";
/// For whom they are.
pub const AUDIENCE: &str = "dibble-api";
/// The type in the header (RFC 9068, section 2.1).
const TYPE: &str = "at+jwt";
/// How far two clocks may differ, in seconds.
const LEEWAY_SECONDS: i64 = 30;
/// A token of ours is far shorter; a longer one is not worth reading.
const LONGEST: usize = 4096;
/// The name of a key of ours is shorter.
const LONGEST_KID: usize = 64;

/// What a token says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Claims {
    /// Issuer.
    pub iss: String,
    /// Audience.
    pub aud: String,
    /// The account.
    pub sub: Uuid,
    /// The program that asked (RFC 9068, section 2.2): ours for people, else the machine client.
    pub client_id: String,
    /// The scopes granted, split by spaces; absent where all that the role allows was granted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scope: Option<String>,
    /// The session; absent for machine clients, which have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sid: Option<Uuid>,
    /// Good until, in seconds since 1970.
    pub exp: i64,
    /// Good from.
    pub nbf: i64,
    /// Issued at.
    pub iat: i64,
    /// The id of the token.
    pub jti: Uuid,
    /// The practice of the account.
    pub practice: Uuid,
    /// The role of the account when it signed in.
    pub role: Role,
}

/// For whom a token is made.
#[derive(Debug, Clone, Copy)]
pub struct Subject {
    /// The account.
    pub account_id: Uuid,
    /// Its practice.
    pub practice_id: Uuid,
    /// Its role.
    pub role: Role,
}

impl Subject {
    /// This account.
    pub fn of(account: &accounts::Model) -> Self {
        Self { account_id: account.id, practice_id: account.practice_id, role: account.role }
    }
}

/// What is granted to the subject beside its role.
#[derive(Debug, Clone, Default)]
pub struct Granted {
    /// The scopes, split by spaces; `None` grants all that the role allows.
    pub scope: Option<String>,
    /// The session that the token belongs to and ends with.
    pub session: Option<Uuid>,
    /// The machine client; `None` for people.
    pub client: Option<Uuid>,
}

/// A token that is good for `lifetime` from now, signed with the key whose turn it is.
///
/// # Errors
/// When there is no key.
pub fn issue(
    app: &AppState,
    subject: Subject,
    granted: Granted,
    lifetime: TimeDelta,
) -> Result<String, ApiError> {
    let now = app.clock.now();
    let key = app.keys.signing(now).ok_or_else(|| ApiError::internal("there is no signing key"))?;
    sign(&key, app.settings.public_url.as_str(), subject, granted, app.ids.next(), now, lifetime)
}

/// Signs a token that is good for `lifetime` from `now`. The issuer is the public address of the
/// service, as the metadata of the token endpoint says (RFC 9068, section 4).
pub fn sign(
    key: &Key,
    issuer: &str,
    subject: Subject,
    granted: Granted,
    jti: Uuid,
    now: DateTime<Utc>,
    lifetime: TimeDelta,
) -> Result<String, ApiError> {
    let mut header = Header::new(Algorithm::EdDSA);
    header.typ = Some(TYPE.to_owned());
    header.kid = Some(key.kid.clone());
    let Granted { scope, session, client } = granted;
    let claims = Claims {
        iss: issuer.to_owned(),
        aud: AUDIENCE.to_owned(),
        sub: subject.account_id,
        client_id: client.map_or_else(|| OWN_CLIENT.to_owned(), |client| client.to_string()),
        scope,
        sid: session,
        exp: (now + lifetime).timestamp(),
        nbf: now.timestamp(),
        iat: now.timestamp(),
        jti,
        practice: subject.practice_id,
        role: subject.role,
    };
    jsonwebtoken::encode(&header, &claims, &key.signing).map_err(ApiError::internal)
}

/// The name of the key in the header of `token`, if the header is of the one form we take.
pub fn kid_of(token: &str) -> Result<String, ApiError> {
    if token.len() > LONGEST {
        return Err(ApiError::unauthenticated("The access token is not one of ours."));
    }
    let refuse = || ApiError::unauthenticated("The access token is not one of ours.");
    let header = jsonwebtoken::decode_header(token).map_err(|error| refuse().caused_by(error))?;
    let typ = header.typ.as_deref().map(str::to_ascii_lowercase);
    let is_access_token = matches!(typ.as_deref(), Some(TYPE | "application/at+jwt"));
    match header.kid {
        Some(kid)
            if is_access_token && header.alg == Algorithm::EdDSA && kid.len() <= LONGEST_KID =>
        {
            Ok(kid)
        }
        _ => Err(refuse()),
    }
}

/// Checks signature, issuer, audience and time.
pub fn check(token: &str, key: &Key, issuer: &str, now: DateTime<Utc>) -> Result<Claims, ApiError> {
    let mut validation = Validation::new(Algorithm::EdDSA);
    validation.set_issuer(&[issuer]);
    validation.set_audience(&[AUDIENCE]);
    validation.set_required_spec_claims(&["exp", "nbf", "aud", "iss", "sub"]);
    // The library asks the computer's clock; we ask the application's, below.
    validation.validate_exp = false;
    validation.validate_nbf = false;
    let claims = jsonwebtoken::decode::<Claims>(token, &key.checking, &validation)
        .map_err(|error| {
            ApiError::unauthenticated("The access token is not one of ours.").caused_by(error)
        })?
        .claims;
    let now = now.timestamp();
    if claims.exp.saturating_add(LEEWAY_SECONDS) <= now {
        return Err(ApiError::unauthenticated("The access token has expired. Sign in again."));
    }
    if claims.nbf.saturating_sub(LEEWAY_SECONDS) > now {
        return Err(ApiError::unauthenticated("The access token is not good yet."));
    }
    Ok(claims)
}

#[cfg(test)]
mod tests {
    use super::{Claims, Granted, Key, Subject, check, kid_of, sign};
    use crate::auth::role::Role;
    use chrono::{DateTime, TimeDelta, Utc};
    use ed25519_dalek::SigningKey;
    use jsonwebtoken::{Algorithm, EncodingKey, Header};
    use uuid::Uuid;

    const ISSUER: &str = "https://dibble.example.org";

    fn key(seed: u8) -> Key {
        let pair = SigningKey::from_bytes(&[seed; 32]);
        Key::of(&format!("k{seed}"), &pair, noon(), None).expect("a key")
    }

    fn noon() -> DateTime<Utc> {
        "2027-04-20T12:00:00Z".parse().expect("time")
    }

    fn token(key: &Key) -> String {
        let subject = Subject {
            account_id: Uuid::from_u128(1),
            practice_id: Uuid::from_u128(2),
            role: Role::Advisor,
        };
        let granted = Granted::default();
        sign(key, ISSUER, subject, granted, Uuid::from_u128(3), noon(), TimeDelta::hours(1))
            .expect("signed")
    }

    #[test]
    fn a_token_is_good_from_now_until_its_end_with_a_little_leeway() {
        let key = key(7);
        let token = token(&key);
        assert_eq!(kid_of(&token).expect("ours"), "k7");
        let claims = check(&token, &key, ISSUER, noon()).expect("good");
        assert_eq!((claims.sub, claims.role), (Uuid::from_u128(1), Role::Advisor));
        let at = |seconds| check(&token, &key, ISSUER, noon() + TimeDelta::seconds(seconds));
        assert!(at(3629).is_ok());
        assert!(at(3630).is_err());
        assert!(at(-30).is_ok());
        assert!(at(-31).is_err());
    }

    #[test]
    fn another_key_a_changed_byte_or_another_type_is_refused() {
        let (ours, other) = (key(7), key(8));
        let token = token(&ours);
        assert!(check(&token, &other, ISSUER, noon()).is_err());
        let mut parts: Vec<String> = token.split('.').map(str::to_owned).collect();
        parts[1] = parts[1].replacen('e', "f", 1);
        assert!(check(&parts.join("."), &ours, ISSUER, noon()).is_err());
        assert!(kid_of("a.b.c").is_err());
        assert!(kid_of(&"x".repeat(5000)).is_err());
    }

    #[test]
    fn a_header_of_another_form_is_refused_before_any_key_is_looked_up() {
        let ours = key(7);
        let claims = check(&token(&ours), &ours, ISSUER, noon()).expect("good");
        let mut plain = Header::new(Algorithm::EdDSA);
        plain.kid = Some("k7".to_owned());
        let id_token = jsonwebtoken::encode(&plain, &claims, &ours.signing).expect("signed");
        assert!(kid_of(&id_token).is_err(), "typ JWT is not an access token");
        let mut hs = Header::new(Algorithm::HS256);
        hs.kid = Some("k7".to_owned());
        hs.typ = Some("at+jwt".to_owned());
        let secret = EncodingKey::from_secret(b"0123456789abcdef0123456789abcdef");
        let swapped = jsonwebtoken::encode(&hs, &claims, &secret).expect("signed");
        assert!(kid_of(&swapped).is_err(), "only EdDSA");
    }

    #[test]
    fn a_token_for_someone_else_is_refused() {
        let ours = key(7);
        let good = check(&token(&ours), &ours, ISSUER, noon()).expect("good");
        let mut header = Header::new(Algorithm::EdDSA);
        header.typ = Some("at+jwt".to_owned());
        for wrong in [
            Claims { aud: "another-api".to_owned(), ..good.clone() },
            Claims { iss: "someone".to_owned(), ..good },
        ] {
            let token = jsonwebtoken::encode(&header, &wrong, &ours.signing).expect("signed");
            assert!(check(&token, &ours, ISSUER, noon()).is_err());
        }
    }
}
