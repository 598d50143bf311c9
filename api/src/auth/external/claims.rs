//! Checking a token of an outside issuer (RFC 8725; RFC 9068; OpenID Connect Core, section 3.1.3.7).

use chrono::{DateTime, Utc};
use jsonwebtoken::{Algorithm, Header, Validation};
use serde::Deserialize;
use serde_json::Value;

use super::configured::{Configured, TokenType};
use super::key_set::OutsideKey;
use crate::http::{ApiError, text};

/// How far two clocks may differ, in seconds.
const LEEWAY_SECONDS: i64 = 30;
/// A longer token is not worth reading.
const LONGEST: usize = 16_384;
/// Most characters of a subject (OpenID Connect Core, section 2).
const SUBJECT_MOST: usize = 255;

/// What the header of a token says that we look at. Addresses of keys in it are never followed.
#[derive(Debug)]
pub(super) struct Head {
    pub(super) kid: String,
    pub(super) algorithm: Algorithm,
}

/// What a token says.
#[derive(Debug, Deserialize)]
pub(super) struct Claims {
    /// One text, or a list; the library has checked that ours is there.
    aud: Value,
    pub(super) sub: String,
    exp: i64,
    iat: i64,
    nbf: Option<i64>,
    azp: Option<String>,
    client_id: Option<String>,
    email: Option<String>,
    email_verified: Option<Value>,
}

#[derive(Deserialize)]
struct Named {
    iss: String,
}

/// The one answer to all tokens that are not good.
pub(super) fn refused() -> ApiError {
    ApiError::unauthenticated("The access token is not good here.")
}

/// Whose token this says it is; nothing is checked yet.
pub(super) fn issuer_of(token: &str) -> Option<String> {
    if token.len() > LONGEST {
        return None;
    }
    let named = jsonwebtoken::dangerous::insecure_decode_claims::<Named>(token);
    named.ok().map(|named| named.iss)
}

/// The header, if it is of a form that we take from this issuer.
pub(super) fn head_of(token: &str, issuer: &Configured) -> Result<Head, ApiError> {
    let header = jsonwebtoken::decode_header(token).map_err(|error| refused().caused_by(error))?;
    let allowed = issuer.algorithms.iter().any(|one| one.algorithm() == header.alg);
    // What must be understood is not: RFC 7515, section 4.1.11.
    if !allowed || header.crit.is_some() || !is_of_a_type(&header, &issuer.token_types) {
        return Err(refused());
    }
    let kid = header.kid.ok_or_else(refused)?;
    Ok(Head { kid, algorithm: header.alg })
}

fn is_of_a_type(header: &Header, types: &[TokenType]) -> bool {
    let named = header.typ.as_deref().map(str::to_ascii_lowercase);
    let named = match named.as_deref() {
        Some("at+jwt" | "application/at+jwt") => TokenType::AccessToken,
        Some("jwt") | None => TokenType::Jwt,
        Some(_) => return false,
    };
    types.contains(&named)
}

/// Checks signature, issuer, audience, whom it was made for, and time.
pub(super) fn check(
    token: &str,
    key: &OutsideKey,
    issuer: &Configured,
    now: DateTime<Utc>,
) -> Result<Claims, ApiError> {
    let mut validation = Validation::new(key.algorithm);
    validation.set_issuer(&[&issuer.issuer]);
    validation.set_audience(&[&issuer.audience]);
    validation.set_required_spec_claims(&["exp", "aud", "iss", "sub"]);
    // The library asks the computer's clock; we ask the application's, below.
    validation.validate_exp = false;
    validation.validate_nbf = false;
    let claims = jsonwebtoken::decode::<Claims>(token, &key.checking, &validation)
        .map_err(|error| refused().caused_by(error))?
        .claims;
    if !is_for_us(&claims, issuer) || claims.sub.is_empty() || claims.sub.len() > SUBJECT_MOST {
        return Err(refused());
    }
    check_time(&claims, now.timestamp())?;
    Ok(claims)
}

fn check_time(claims: &Claims, now: i64) -> Result<(), ApiError> {
    if claims.exp.saturating_add(LEEWAY_SECONDS) <= now {
        return Err(ApiError::unauthenticated("The access token has expired. Sign in again."));
    }
    let from = claims.nbf.unwrap_or(claims.iat).max(claims.iat);
    if from.saturating_sub(LEEWAY_SECONDS) > now {
        return Err(ApiError::unauthenticated("The access token is not good yet."));
    }
    Ok(())
}

/// A token for several audiences names the program that it was made for; whenever one is named, it
/// must be one of ours.
fn is_for_us(claims: &Claims, issuer: &Configured) -> bool {
    let several = claims.aud.as_array().is_some_and(|list| list.len() > 1);
    let ours = |party: &String| match issuer.authorized_parties.as_slice() {
        [] => *party == issuer.audience,
        parties => parties.contains(party),
    };
    match (&claims.azp, &claims.client_id) {
        (Some(party), _) => ours(party),
        (None, Some(party)) if !issuer.authorized_parties.is_empty() => ours(party),
        (None, _) => !several,
    }
}

impl Claims {
    /// The e-mail address, if the issuer has verified it.
    pub(super) fn verified_email(&self) -> Option<String> {
        let verified = self.email_verified == Some(Value::Bool(true));
        let email = self.email.as_deref().filter(|_| verified)?;
        text::email("", email).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::{Claims, Configured, check_time, is_for_us};
    use serde_json::{Value, json};

    fn claims(more: &Value) -> Claims {
        let mut all = json!({"aud": "dibble", "sub": "s", "exp": 200, "iat": 100});
        for (name, value) in more.as_object().expect("members") {
            all[name] = value.clone();
        }
        serde_json::from_value(all).expect("claims")
    }

    fn issuer(parties: &[&str]) -> Configured {
        serde_json::from_value(json!({
            "issuer": "https://a.example", "audience": "dibble",
            "practice_id": "01964f1e-6a00-7000-8000-000000000001", "authorized_parties": parties
        }))
        .expect("an issuer")
    }

    #[test]
    fn it_is_good_from_its_beginning_to_its_end_with_a_little_leeway() {
        let plain = claims(&json!({}));
        for (now, good) in [(69, false), (70, true), (229, true), (230, false)] {
            assert_eq!(check_time(&plain, now).is_ok(), good, "{now}");
        }
        let later = claims(&json!({"nbf": 150}));
        assert!(check_time(&later, 119).is_err() && check_time(&later, 120).is_ok());
    }

    #[test]
    fn whom_it_was_made_for_must_be_ours() {
        let ours = |more: &Value, parties: &[&str]| is_for_us(&claims(more), &issuer(parties));
        assert!(ours(&json!({}), &[]));
        assert!(ours(&json!({"azp": "dibble"}), &[]));
        assert!(!ours(&json!({"azp": "other"}), &[]));
        assert!(ours(&json!({"azp": "phone"}), &["phone"]));
        assert!(!ours(&json!({"azp": "dibble"}), &["phone"]));
        let several = json!({"aud": ["dibble", "other"]});
        assert!(!ours(&several, &[]));
        let mut named = several;
        named["azp"] = json!("dibble");
        assert!(ours(&named, &[]));
        assert!(ours(&json!({"client_id": "anyone"}), &[]));
        assert!(!ours(&json!({"client_id": "anyone"}), &["phone"]));
    }

    #[test]
    fn only_an_address_that_was_verified_counts() {
        let email = |more: &Value| claims(more).verified_email();
        let ann = || json!("Ann@Example.org");
        let verified = json!({"email": ann(), "email_verified": true});
        assert_eq!(email(&verified).as_deref(), Some("ann@example.org"));
        for verified in [json!(false), json!("true"), json!(1), json!(null)] {
            assert_eq!(email(&json!({"email": ann(), "email_verified": verified})), None);
        }
        assert_eq!(email(&json!({"email": ann()})), None);
        assert_eq!(email(&json!({"email": "no address", "email_verified": true})), None);
    }
}
