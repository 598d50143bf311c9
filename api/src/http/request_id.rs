//! The id of a request: the caller's `x-request-id` if it is harmless, else a new one.

use actix_web::HttpMessage;
use actix_web::http::header::HeaderName;

use crate::ids::Ids;

/// The header, in requests and answers.
pub const HEADER: HeaderName = HeaderName::from_static("x-request-id");

const LONGEST: usize = 128;

/// The id of one request.
#[derive(Debug, Clone)]
pub struct RequestId(pub String);

impl RequestId {
    /// Takes the caller's id or makes one.
    pub fn of(request: &impl HttpMessage, ids: &Ids) -> Self {
        let given = request.headers().get(HEADER).and_then(|value| value.to_str().ok());
        match given {
            Some(id) if is_harmless(id) => Self(id.to_owned()),
            _ => Self(ids.next().to_string()),
        }
    }
}

/// Letters, digits and `-_.` only, so that it can't forge a line of the log.
fn is_harmless(id: &str) -> bool {
    (1..=LONGEST).contains(&id.len())
        && id.bytes().all(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b'.'))
}

#[cfg(test)]
mod tests {
    use super::is_harmless;

    #[test]
    fn only_harmless_ids_are_taken() {
        assert!(is_harmless("abc-1.2_3"));
        assert!(!is_harmless(""));
        assert!(!is_harmless("a b"));
        assert!(!is_harmless("a\nb"));
        assert!(!is_harmless(&"x".repeat(129)));
    }
}
