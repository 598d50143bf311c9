//! The `{id}` of a path.

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest};
use uuid::Uuid;

use super::error::ApiError;
use super::problem::ProblemCode;

/// The `{id}` of the path. What is not a UUID names no object, so it answers 404 like any other
/// id that is not there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Id(pub Uuid);

/// Reads the hyphenated form only, in either case: one object, one address.
pub fn parse_id(text: &str) -> Option<Uuid> {
    if text.len() == 36 { Uuid::try_parse(text).ok() } else { None }
}

impl FromRequest for Id {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        let found = request.match_info().get("id").and_then(parse_id).map(Self);
        ready(found.ok_or_else(|| {
            ApiError::new(
                ProblemCode::NotFound,
                "The id in the path is not a UUID, so nothing has it.",
            )
        }))
    }
}

#[cfg(test)]
mod tests {
    use super::parse_id;

    #[test]
    fn only_the_hyphenated_form_is_an_id() {
        assert!(parse_id("01964f1e-6a00-7000-8000-000000000001").is_some());
        assert!(parse_id("01964f1e6a0070008000000000000001").is_none());
        assert!(parse_id("{01964f1e-6a00-7000-8000-000000000001}").is_none());
        assert!(parse_id("me").is_none());
    }
}
