//! The header `Idempotency-Key`, and what it was sent with.

use actix_web::HttpRequest;
use actix_web::http::header::{HeaderName, IF_MATCH};
use serde_json::Value;
use sha2::digest::Output;
use sha2::{Digest, Sha256};
use uuid::{Builder, Uuid};

use super::actor::Actor;
use crate::http::body::SentBody;
use crate::http::{ApiError, BadMember};

/// The header (draft-ietf-httpapi-idempotency-key-header-07).
const HEADER: HeaderName = HeaderName::from_static("idempotency-key");

/// Most characters of a key.
const LONGEST: usize = 255;

/// A key of one account for one operation, and the request that it came with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Key {
    /// The practice.
    pub practice_id: Uuid,
    /// SHA-256 over account, operation and key: the key itself is not kept.
    pub id: Uuid,
    /// SHA-256 over the key and all that the request says. Whoever has the database but not the key
    /// can't try what the request may have said.
    pub fingerprint: String,
}

impl Key {
    /// The key of a request; `None` where it has none.
    ///
    /// # Errors
    /// 422 for a header that is no key.
    pub(super) fn of(
        request: &HttpRequest,
        by: &Actor,
        operation: &str,
    ) -> Result<Option<Self>, ApiError> {
        let mut given = request.headers().get_all(HEADER);
        let Some(first) = given.next() else { return Ok(None) };
        let text = first.to_str().ok().filter(|_| given.next().is_none());
        let Some(key) = text.and_then(read) else {
            let member = BadMember::new(HEADER.as_str(), "This is no key.");
            let member = member.given(text.unwrap_or("more than one, or not ASCII"));
            let allowed = "1 to 255 visible ASCII characters, bare or in double quotes";
            return Err(member.allowed(allowed).into());
        };
        Ok(Some(Self {
            practice_id: by.practice_id,
            id: id_of(by, operation, &key),
            fingerprint: fingerprint(request, &key),
        }))
    }

    /// The number under which PostgreSQL locks the key.
    pub(super) fn lock(&self) -> i64 {
        let (high, _) = self.id.as_u64_pair();
        i64::from_ne_bytes(high.to_ne_bytes())
    }
}

/// Reads a string of RFC 9651, or the same characters without quotes: most clients send it so.
fn read(text: &str) -> Option<String> {
    let text = text.trim_matches([' ', '\t']);
    let key = match text.strip_prefix('"') {
        Some(rest) => unquoted(rest.strip_suffix('"')?)?,
        None => text.to_owned(),
    };
    let visible = key.bytes().all(|byte| byte.is_ascii_graphic());
    (visible && (1..=LONGEST).contains(&key.len())).then_some(key)
}

/// What stands between the quotes: a backslash goes before a quote or a backslash, and both only so.
fn unquoted(inner: &str) -> Option<String> {
    let mut key = String::with_capacity(inner.len());
    let mut letters = inner.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => return None,
            '\\' => key.push(letters.next().filter(|next| matches!(next, '"' | '\\'))?),
            other => key.push(other),
        }
    }
    Some(key)
}

fn id_of(by: &Actor, operation: &str, key: &str) -> Uuid {
    let hash = hash(&[
        by.practice_id.as_bytes(),
        by.account_id.as_bytes(),
        operation.as_bytes(),
        key.as_bytes(),
    ]);
    let mut id = [0; 16];
    for (byte, hashed) in id.iter_mut().zip(hash) {
        *byte = hashed;
    }
    Builder::from_custom_bytes(id).into_uuid()
}

fn fingerprint(request: &HttpRequest, key: &str) -> String {
    let mut parts: Vec<Vec<u8>> = vec![
        key.into(),
        request.method().as_str().into(),
        request.path().into(),
        request.query_string().into(),
        SentBody::of(request).map(|body| canonical(&body)).unwrap_or_default(),
    ];
    parts.extend(request.headers().get_all(IF_MATCH).map(|value| value.as_bytes().to_vec()));
    let parts: Vec<&[u8]> = parts.iter().map(Vec::as_slice).collect();
    format!("{:x}", hash(&parts))
}

/// JSON without spaces, members in order of their names: written anew, a body says the same.
fn canonical(body: &[u8]) -> Vec<u8> {
    let value = serde_json::from_slice::<Value>(body);
    let written = value.and_then(|value| serde_json::to_vec(&value));
    written.unwrap_or_else(|_| body.to_vec())
}

/// SHA-256 over parts, each behind its length, so that none runs into the next.
fn hash(parts: &[&[u8]]) -> Output<Sha256> {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update(part.len().to_string());
        hash.update(b":");
        hash.update(part);
    }
    hash.finalize()
}

#[cfg(test)]
mod tests {
    use super::{Key, read};
    use crate::auth::role::Role;
    use crate::http::body::SentBody;
    use crate::writes::Actor;
    use actix_web::HttpMessage;
    use actix_web::test::TestRequest;
    use actix_web::web::Bytes;
    use uuid::Uuid;

    #[test]
    fn a_key_is_quoted_or_bare() {
        let longest = "k".repeat(255);
        for (text, key) in [
            ("\"8e03978e-40d5\"", "8e03978e-40d5"),
            ("8e03978e-40d5", "8e03978e-40d5"),
            (" a ", "a"),
            (r#""a\"b\\c""#, r#"a"b\c"#),
            ("a=b;c", "a=b;c"),
            (longest.as_str(), longest.as_str()),
        ] {
            assert_eq!(read(text).as_deref(), Some(key), "{text}");
        }
        let long = "k".repeat(256);
        let long_quoted = format!("\"{long}\"");
        for text in [
            "",
            " ",
            "\"\"",
            "\"",
            "\"a",
            "a b",
            "\"a b\"",
            "\"a\"b\"",
            r#""a\n""#,
            r#""a\""#,
            "\"a\";p=1",
            "\u{e9}",
            &long,
            &long_quoted,
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    const BY: Actor = Actor {
        practice_id: Uuid::from_u128(1),
        account_id: Uuid::from_u128(2),
        role: Role::Advisor,
        client_id: None,
    };

    fn key(request: TestRequest, body: Option<&'static str>, by: Actor, operation: &str) -> Key {
        let request = request.insert_header(("idempotency-key", "k")).to_http_request();
        if let Some(body) = body {
            request.extensions_mut().insert(SentBody(Bytes::from_static(body.as_bytes())));
        }
        Key::of(&request, &by, operation).expect("a key").expect("there")
    }

    #[test]
    fn the_fingerprint_is_that_of_what_is_said() {
        let plain = || TestRequest::patch().uri("/a?b=c");
        let body = Some(r#"{"n": 1, "m": [2, {"x": null, "a": 0.1}]}"#);
        let first = key(plain(), body, BY, "o");
        let anew = Some("{\"m\":[2,{\"a\":0.1,\"x\":null}],\n\"n\":1}");
        assert_eq!(key(plain(), anew, BY, "o"), first);
        for other in [
            key(plain(), Some(r#"{"n": 1}"#), BY, "o"),
            key(plain(), Some(r#"{"n": 1, "m": [{"x": null, "a": 0.1}, 2]}"#), BY, "o"),
            key(plain(), None, BY, "o"),
            key(TestRequest::put().uri("/a?b=c"), body, BY, "o"),
            key(TestRequest::patch().uri("/a"), body, BY, "o"),
            key(TestRequest::patch().uri("/b?b=c"), body, BY, "o"),
            key(plain().insert_header(("if-match", "\"1\"")), body, BY, "o"),
        ] {
            assert_eq!(other.id, first.id);
            assert_ne!(other.fingerprint, first.fingerprint);
        }
    }

    #[test]
    fn a_key_is_of_one_account_and_one_operation() {
        let of = |by, operation| key(TestRequest::post().uri("/a"), None, by, operation).id;
        let first = of(BY, "o");
        assert_eq!(first, of(Actor { role: Role::Lead, ..BY }, "o"));
        assert_ne!(first, of(BY, "p"));
        assert_ne!(first, of(Actor { account_id: Uuid::from_u128(3), ..BY }, "o"));
        assert_ne!(first, of(Actor { practice_id: Uuid::from_u128(3), ..BY }, "o"));
    }
}
