//! `{system}` and `{their_id}` of a path.

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::http::header::IF_NONE_MATCH;
use actix_web::{FromRequest, HttpMessage, HttpRequest};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use utoipa::IntoParams;

use crate::exchange::intake::{By, Kind, System, TheirRef, their_id};
use crate::http::ApiError;
use crate::http::request_id::RequestId;
use crate::writes::Actor;

/// What stands for itself in a part of a path (RFC 3986, section 2.3).
const PLAIN: &AsciiSet = &NON_ALPHANUMERIC.remove(b'-').remove(b'.').remove(b'_').remove(b'~');

/// `{system}`, for the API document.
#[derive(IntoParams)]
#[into_params(parameter_in = Path)]
#[expect(dead_code, reason = "only described: `InSystem` reads it")]
pub(super) struct SystemPath {
    /// Name of the records system.
    #[param(
        min_length = 2,
        max_length = 40,
        pattern = "^[a-z][a-z0-9-]{1,39}$",
        example = "records"
    )]
    system: String,
}

/// `{their_id}`, for the API document.
#[derive(IntoParams)]
#[into_params(parameter_in = Path)]
#[expect(dead_code, reason = "only described: `ItsId` reads it")]
pub(super) struct ItsPath {
    /// Their id, percent-encoded: a slash in it as `%2F`.
    #[param(min_length = 1, max_length = 200, example = "F-12")]
    their_id: String,
}

/// The conditions of a `PUT`, for the API document.
#[derive(IntoParams)]
#[into_params(parameter_in = Header)]
#[expect(dead_code, reason = "only described: `IfMatch` and `InSystem` read them")]
pub(super) struct PutConditions {
    /// `ETag` of the object as it was read; any version when absent.
    #[param(rename = "If-Match", nullable = false)]
    if_match: Option<String>,
    /// `*`: only if nothing came under this id yet.
    #[param(rename = "If-None-Match", nullable = false)]
    if_none_match: Option<String>,
}

/// The records system of a path, and the request.
#[derive(Debug, Clone)]
pub(super) struct InSystem {
    pub system: System,
    request_id: String,
    /// Whether the caller only wants to make something new: `If-None-Match: *`.
    pub only_new: bool,
}

/// One of their ids in a path.
#[derive(Debug, Clone)]
pub(super) struct ItsId {
    pub of: InSystem,
    pub their_id: String,
}

impl InSystem {
    /// Who takes records by an operation.
    pub(super) fn by(&self, actor: impl Into<Actor>, operation: &str) -> By {
        let operation = operation.to_owned();
        By { actor: actor.into(), operation, request_id: self.request_id.clone() }
    }

    fn read(request: &HttpRequest) -> Result<Self, ApiError> {
        let given = request.match_info().get("system").unwrap_or_default();
        let request_id = request.extensions().get::<RequestId>().map(|id| id.0.clone());
        let known = request.headers().get(IF_NONE_MATCH);
        Ok(Self {
            system: System::parse("{system}", given)?,
            request_id: request_id.unwrap_or_default(),
            only_new: known.is_some_and(|value| value.as_bytes().trim_ascii() == b"*"),
        })
    }
}

impl ItsId {
    /// The record that it is of.
    pub(super) fn record(&self, kind: Kind) -> TheirRef {
        TheirRef { kind, their_id: self.their_id.clone() }
    }

    /// Its path. A slash in an id stands as `%2F`.
    pub(super) fn path(&self, kind: Kind) -> String {
        path(&self.of.system, kind, &self.their_id)
    }

    fn read(request: &HttpRequest) -> Result<Self, ApiError> {
        let of = InSystem::read(request)?;
        // Only here `%2F` and `%25` become a slash and a percent sign.
        let (_, id): (String, String) = request.match_info().load().map_err(ApiError::internal)?;
        their_id("{their_id}", &id)?;
        Ok(Self { of, their_id: id })
    }
}

/// The path of one of their ids.
pub(super) fn path(system: &System, kind: Kind, their_id: &str) -> String {
    let id = utf8_percent_encode(their_id, PLAIN);
    format!("/v1/external/{system}/{}/{id}", kind.plural())
}

impl FromRequest for InSystem {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        ready(Self::read(request))
    }
}

impl FromRequest for ItsId {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        ready(Self::read(request))
    }
}
