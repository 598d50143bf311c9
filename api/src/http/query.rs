//! The query string, typed. Unknown parameters are refused, so that a slip does not pass silently.

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest};
use serde::de::DeserializeOwned;

use super::error::ApiError;
use super::member::BadMember;

/// The query string as a `T` with `#[serde(deny_unknown_fields)]`.
#[derive(Debug)]
pub struct Query<T>(pub T);

impl<T: DeserializeOwned> FromRequest for Query<T> {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        ready(
            read(request.query_string())
                .map(Self)
                .map_err(ApiError::from),
        )
    }
}

fn read<T: DeserializeOwned>(query: &str) -> Result<T, BadMember> {
    let pairs = serde_urlencoded::Deserializer::new(form_urlencoded::parse(query.as_bytes()));
    serde_path_to_error::deserialize(pairs).map_err(|error| {
        let path = error.path().to_string();
        let path = if path == "." { String::new() } else { path };
        let mut member = BadMember::from_serde("", &error.inner().to_string());
        let name = member.pointer.trim_start_matches('/');
        member.pointer = format!("?{}", if name.is_empty() { &path } else { name });
        member
    })
}

#[cfg(test)]
mod tests {
    use super::read;
    use serde::Deserialize;

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Wanted {
        #[serde(default)]
        limit: Option<u16>,
    }

    #[test]
    fn a_refused_parameter_is_named() {
        assert_eq!(read::<Wanted>("limit=7").expect("valid").limit, Some(7));
        assert_eq!(read::<Wanted>("").expect("valid").limit, None);
        assert_eq!(
            read::<Wanted>("limit=many").expect_err("text").pointer,
            "?limit"
        );
        assert_eq!(
            read::<Wanted>("limti=7").expect_err("slip").pointer,
            "?limti"
        );
        assert_eq!(
            read::<Wanted>("limit=1&limit=2")
                .expect_err("twice")
                .pointer,
            "?limit"
        );
    }
}
