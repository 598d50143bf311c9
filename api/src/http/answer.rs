//! A JSON answer with its headers, and `304` when the caller has it already.

use actix_web::body::BoxBody;
use actix_web::http::StatusCode;
use actix_web::http::header::{
    CACHE_CONTROL, ETAG, EntityTag, Header, HeaderName, IfNoneMatch, LINK, LOCATION,
};
use actix_web::{HttpRequest, HttpResponse, Responder};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::etag::ETag;
use super::page;

/// The answer of an operation.
#[derive(Debug)]
pub struct Answer<T> {
    status: StatusCode,
    body: T,
    etag: Option<EntityTag>,
    location: Option<String>,
    /// Where the next page begins, and the parameter that says so.
    next: Option<(&'static str, String)>,
    no_store: bool,
}

/// What an answer consists of, to be kept.
#[derive(Debug)]
pub struct Parts<'a, T> {
    /// The status.
    pub status: StatusCode,
    /// The tag of the version.
    pub etag: Option<String>,
    /// Where the new object is.
    pub location: Option<&'a str>,
    /// The body; `None` of an answer without one.
    pub body: Option<&'a T>,
    /// Whether it holds a secret.
    pub secret: bool,
}

impl Answer<()> {
    /// 204: done, and nothing to say.
    pub fn done() -> Self {
        Self { status: StatusCode::NO_CONTENT, ..Self::ok(()) }
    }
}

impl<T: Serialize> Answer<T> {
    /// 200 with a body.
    pub fn ok(body: T) -> Self {
        Self {
            status: StatusCode::OK,
            body,
            etag: None,
            location: None,
            next: None,
            no_store: false,
        }
    }

    /// 201 with a body, made at `location`.
    pub fn created(location: String, body: T) -> Self {
        Self { status: StatusCode::CREATED, location: Some(location), ..Self::ok(body) }
    }

    /// 202: it will be done.
    pub fn accepted(body: T) -> Self {
        Self { status: StatusCode::ACCEPTED, ..Self::ok(body) }
    }

    /// A page of a list: `next_cursor` also goes into the header `Link`. Its tag is taken from what
    /// stands in it, since a list has no version.
    pub fn page(body: T, next_cursor: Option<String>) -> Self {
        let etag = content_tag(&body);
        Self { next: next_cursor.map(|place| ("cursor", place)), etag, ..Self::ok(body) }
    }

    /// A page of a feed, which never ends: `next_after` goes into the header `Link` where something is
    /// there to be read already.
    pub fn feed(body: T, next_after: Option<String>) -> Self {
        Self { next: next_after.map(|place| ("after", place)), ..Self::page(body, None) }
    }

    /// With the tag of its version.
    #[must_use]
    pub fn tagged(mut self, etag: &ETag) -> Self {
        self.etag = Some(etag.entity_tag());
        self
    }

    /// Never to be kept by anyone on the way.
    #[must_use]
    pub fn secret(mut self) -> Self {
        self.no_store = true;
        self
    }

    /// What it consists of.
    pub fn parts(&self) -> Parts<'_, T> {
        Parts {
            status: self.status,
            etag: self.etag.as_ref().map(ToString::to_string),
            location: self.location.as_deref(),
            body: (self.status != StatusCode::NO_CONTENT).then_some(&self.body),
            secret: self.no_store,
        }
    }
}

impl<T: Serialize> Responder for Answer<T> {
    type Body = BoxBody;

    fn respond_to(self, request: &HttpRequest) -> HttpResponse {
        let known = self.etag.as_ref().is_some_and(|etag| caller_has(request, etag));
        let reading = self.status == StatusCode::OK && request.method().is_safe();
        let mut response = if known && reading {
            HttpResponse::NotModified()
        } else {
            HttpResponse::build(self.status)
        };
        let mut header = |name: HeaderName, value: Option<String>| {
            if let Some(value) = value {
                response.insert_header((name, value));
            }
        };
        header(ETAG, self.etag.map(|etag| etag.to_string()));
        header(LOCATION, self.location);
        header(CACHE_CONTROL, self.no_store.then(|| "no-store".to_owned()));
        let next = self.next.map(|(name, place)| page::next_address(request, name, &place));
        header(LINK, next.map(|address| format!("<{address}>; rel=\"next\"")));
        let bare = known && reading || self.status == StatusCode::NO_CONTENT;
        if bare { response.finish() } else { response.json(self.body) }
    }
}

/// A weak tag: two pages that have it say the same.
fn content_tag(body: &impl Serialize) -> Option<EntityTag> {
    let mut hash = Sha256::new();
    serde_json::to_writer(&mut hash, body).ok()?;
    let hash: [u8; 32] = hash.finalize().into();
    Some(EntityTag::new_weak(URL_SAFE_NO_PAD.encode(hash.first_chunk::<15>()?)))
}

/// Whether `If-None-Match` lists the tag (weak comparison, as for reading).
fn caller_has(request: &HttpRequest, etag: &EntityTag) -> bool {
    if !request.headers().contains_key(actix_web::http::header::IF_NONE_MATCH) {
        return false;
    }
    match IfNoneMatch::parse(request) {
        Ok(IfNoneMatch::Any) => true,
        Ok(IfNoneMatch::Items(tags)) => tags.iter().any(|tag| tag.weak_eq(etag)),
        Err(_) => false,
    }
}
