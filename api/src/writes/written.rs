//! What a write answers: now, or again.

use actix_web::body::BoxBody;
use actix_web::http::StatusCode;
use actix_web::http::header::{ContentType, ETAG, HeaderName, LOCATION};
use actix_web::{HttpRequest, HttpResponse, Responder};
use serde::Serialize;

use crate::http::{Answer, ApiError};

/// Says that an answer was given before.
pub(super) const REPLAYED: HeaderName = HeaderName::from_static("idempotency-replayed");

/// What a write answers.
#[derive(Debug)]
pub enum Written<T> {
    /// It was carried out, and this is the answer.
    Now(Answer<T>),
    /// It was carried out before; this was the answer.
    Again(Again),
}

/// An answer that was given before.
#[derive(Debug)]
pub struct Again {
    status: StatusCode,
    etag: Option<String>,
    location: Option<String>,
    body: Option<String>,
}

impl Again {
    /// From a stored row.
    pub(super) fn of(
        status: i32,
        etag: Option<String>,
        location: Option<String>,
        body: Option<String>,
    ) -> Result<Self, ApiError> {
        let status = u16::try_from(status).map_err(ApiError::internal)?;
        let status = StatusCode::from_u16(status).map_err(ApiError::internal)?;
        Ok(Self { status, etag, location, body })
    }

    fn respond(self) -> HttpResponse {
        let Self { status, etag, location, body } = self;
        let mut response = HttpResponse::build(status);
        response.insert_header((REPLAYED, "true"));
        for (name, value) in [(ETAG, etag), (LOCATION, location)] {
            if let Some(value) = value {
                response.insert_header((name, value));
            }
        }
        match body {
            Some(body) => response.insert_header(ContentType::json()).body(body),
            None => response.finish(),
        }
    }
}

impl<T: Serialize> Responder for Written<T> {
    type Body = BoxBody;

    fn respond_to(self, request: &HttpRequest) -> HttpResponse {
        match self {
            Self::Now(answer) => answer.respond_to(request),
            Self::Again(again) => again.respond(),
        }
    }
}
