//! The query string, typed. Unknown parameters are refused, so that a slip does not pass silently.

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest};
use serde::de::DeserializeOwned;

use super::error::ApiError;
use super::strict;

/// The query string as a `T` with `#[serde(deny_unknown_fields)]`.
#[derive(Debug)]
pub struct Query<T>(pub T);

impl<T: DeserializeOwned> FromRequest for Query<T> {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        ready(strict::from_query(request.query_string()).map(Self).map_err(ApiError::from))
    }
}
