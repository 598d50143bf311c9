//! Where a redirect leads, and what goes along.

use actix_web::web::Bytes;
use reqwest::header::{
    ACCEPT, ACCEPT_LANGUAGE, CONTENT_TYPE, HeaderMap, HeaderName, IF_MODIFIED_SINCE, IF_NONE_MATCH,
    LOCATION,
};
use reqwest::{Method, Response, StatusCode, Url};

use super::error::OutgoingError;
use super::request::OutgoingRequest;

/// What may go to another origin. All else may be a secret, whatever its name.
const HARMLESS: [HeaderName; 5] =
    [ACCEPT, ACCEPT_LANGUAGE, CONTENT_TYPE, IF_NONE_MATCH, IF_MODIFIED_SINCE];

/// Where the answer sends us; nowhere when it is no redirect.
pub(super) fn target(response: &Response) -> Option<Result<Url, OutgoingError>> {
    let redirects = matches!(response.status().as_u16(), 301 | 302 | 303 | 307 | 308);
    let location = response.headers().get(LOCATION).filter(|_| redirects)?;
    let target = location.to_str().ok().and_then(|text| response.url().join(text).ok());
    Some(target.ok_or(OutgoingError::Address("a redirect to nowhere")))
}

/// The request that follows a redirect.
///
/// # Errors
/// When it would give away what belongs to the first origin.
pub(super) fn follow(
    request: &mut OutgoingRequest,
    status: StatusCode,
    to: Url,
) -> Result<(), OutgoingError> {
    let is_other = request.url.origin() != to.origin();
    if request.url.scheme() == "https" && to.scheme() != "https" {
        return Err(OutgoingError::Downgrade);
    }
    let keeps_method = matches!(request.method, Method::GET | Method::HEAD)
        || matches!(status, StatusCode::TEMPORARY_REDIRECT | StatusCode::PERMANENT_REDIRECT);
    if !keeps_method {
        request.method = Method::GET;
        request.body = None::<Bytes>;
        request.headers.remove(CONTENT_TYPE);
    }
    if is_other {
        if request.body.is_some() {
            return Err(OutgoingError::Address("a redirect that takes a body elsewhere"));
        }
        request.headers = harmless(&request.headers);
    }
    request.url = to;
    Ok(())
}

fn harmless(headers: &HeaderMap) -> HeaderMap {
    let kept = headers.iter().filter(|(name, _)| HARMLESS.contains(name));
    kept.map(|(name, value)| (name.clone(), value.clone())).collect()
}
