//! Which web pages of other origins may use the service from a browser: none, unless they are named.
//!
//! A page sends its access token itself, in a header, so nothing is ever sent along by the browser
//! (no credentials in the sense of the fetch standard).

use actix_cors::Cors;
use actix_web::http::Method;
use actix_web::http::header::{
    ACCEPT, AUTHORIZATION, CONTENT_TYPE, ETAG, HeaderName, IF_MATCH, IF_NONE_MATCH, LINK, LOCATION,
    RETRY_AFTER,
};

use super::limits::rate;
use super::{request_id, trace};
use crate::config::Origin;

/// How long a browser may remember what is allowed, in seconds.
const REMEMBERED: usize = 3600;

/// What the named origins may do; to any other page the answer is not shown.
pub fn of(origins: &[Origin]) -> Cors {
    let open =
        origins.iter().fold(Cors::default(), |cors, origin| cors.allowed_origin(origin.as_str()));
    open.allowed_methods([
        Method::GET,
        Method::HEAD,
        Method::POST,
        Method::PUT,
        Method::PATCH,
        Method::DELETE,
    ])
    .allowed_headers([
        ACCEPT,
        AUTHORIZATION,
        CONTENT_TYPE,
        IF_MATCH,
        IF_NONE_MATCH,
        HeaderName::from_static("idempotency-key"),
        request_id::HEADER,
        trace::PARENT,
        trace::STATE,
    ])
    .expose_headers([
        ETAG,
        LINK,
        LOCATION,
        RETRY_AFTER,
        HeaderName::from_static("deprecation"),
        HeaderName::from_static("sunset"),
        rate::LEFT,
        rate::POLICY,
        request_id::HEADER,
        trace::RESPONSE,
    ])
    .block_on_origin_mismatch(false)
    .max_age(REMEMBERED)
}
