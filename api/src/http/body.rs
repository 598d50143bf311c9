//! The JSON body of a request, with every refusal named by a JSON Pointer.

use actix_web::dev::Payload;
use actix_web::http::header::{ACCEPT, CONTENT_TYPE, HeaderValue};
use actix_web::web::Bytes;
use actix_web::{FromRequest, HttpMessage, HttpRequest};
use futures_util::future::LocalBoxFuture;
use serde::de::DeserializeOwned;

use super::error::ApiError;
use super::limits::slow_body::is_too_slow;
use super::problem::ProblemCode;
use super::strict;

/// A JSON body of type `T`. Types refuse unknown members with `#[serde(deny_unknown_fields)]`.
#[derive(Debug)]
pub struct Body<T>(pub T);

impl<T> Body<T> {
    /// The value.
    pub fn into_inner(self) -> T {
        self.0
    }
}

impl<T: DeserializeOwned + 'static> FromRequest for Body<T> {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let is_json = request.headers().get(CONTENT_TYPE).is_some_and(is_json);
        let bytes = Bytes::from_request(request, payload);
        let request = request.clone();
        Box::pin(async move {
            if !is_json {
                return Err(no_json());
            }
            let bytes = bytes.await.map_err(|error| unreadable(&error))?;
            request.extensions_mut().insert(SentBody(bytes.clone()));
            read(&bytes).map(Self)
        })
    }
}

/// A JSON body of type `T` that may be left out altogether.
#[derive(Debug)]
pub struct BodyOrNone<T>(pub Option<T>);

impl<T: DeserializeOwned + 'static> FromRequest for BodyOrNone<T> {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let is_json = request.headers().get(CONTENT_TYPE).is_some_and(is_json);
        let bytes = Bytes::from_request(request, payload);
        let request = request.clone();
        Box::pin(async move {
            let bytes = bytes.await.map_err(|error| unreadable(&error))?;
            request.extensions_mut().insert(SentBody(bytes.clone()));
            match (bytes.is_empty(), is_json) {
                (true, _) => Ok(Self(None)),
                (false, true) => Ok(Self(Some(read(&bytes)?))),
                (false, false) => Err(no_json()),
            }
        })
    }
}

/// The body as it was sent, for whoever must know whether a request is the same as before.
#[derive(Debug, Clone)]
pub struct SentBody(pub Bytes);

impl SentBody {
    /// The body of a request, once it was read.
    pub fn of(request: &HttpRequest) -> Option<Bytes> {
        request.extensions().get::<Self>().map(|sent| sent.0.clone())
    }
}

fn no_json() -> ApiError {
    ApiError::new(
        ProblemCode::UnsupportedMediaType,
        "Send the body as Content-Type: application/json.",
    )
    .with_header(ACCEPT, HeaderValue::from_static("application/json"))
}

fn is_json(value: &HeaderValue) -> bool {
    let Ok(text) = value.to_str() else {
        return false;
    };
    let kind = text.split(';').next().unwrap_or(text).trim();
    kind.eq_ignore_ascii_case("application/json")
        || kind.eq_ignore_ascii_case("application/merge-patch+json")
}

/// The body could not be taken from the wire.
pub(crate) fn unreadable(error: &actix_web::Error) -> ApiError {
    let status = error.as_response_error().status_code();
    if is_too_slow(error) {
        ApiError::new(ProblemCode::TooSlow, ProblemCode::TooSlow.meaning())
    } else if status == actix_web::http::StatusCode::PAYLOAD_TOO_LARGE {
        ApiError::new(ProblemCode::BodyTooLarge, ProblemCode::BodyTooLarge.meaning())
    } else {
        ApiError::new(ProblemCode::MalformedJson, "The body broke off.")
            .caused_by(error.to_string())
    }
}

/// Reads JSON; what is no JSON at all is told from JSON that says something else than asked, or more
/// than there is room for.
pub fn read<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, ApiError> {
    let value = strict::reader::parse(bytes)?;
    strict::from_value(&value).map_err(|refusal| refusal.into_member().into())
}

#[cfg(test)]
mod tests {
    use super::read;
    use crate::http::ProblemCode;

    #[test]
    fn what_is_no_json_is_told_from_what_is_not_asked() {
        for text in ["", "{", "{\"inner\":", "[] x", "\u{fffd}"] {
            let error = read::<Vec<f64>>(text.as_bytes()).expect_err("refused");
            assert_eq!(error.code(), ProblemCode::MalformedJson, "{text}");
        }
        let error = read::<Vec<f64>>(b"[1, true]").expect_err("refused");
        assert_eq!(error.code(), ProblemCode::InvalidRequest);
        assert_eq!(error.members()[0].pointer, "/1");
        assert_eq!(read::<Vec<f64>>(b"[1, 2.5]").expect("valid"), [1.0, 2.5]);
    }
}
