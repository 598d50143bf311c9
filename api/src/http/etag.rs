//! Versions of what can change: `ETag` out, `If-Match` in (RFC 9110, section 13).

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::http::header::{EntityTag, Header, IF_MATCH, IfMatch as IfMatchHeader};
use actix_web::{FromRequest, HttpRequest};
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::error::ApiError;
use super::problem::ProblemCode;

/// The strong tag of one version of an object in one form.
///
/// The form (for example the system of units) makes two answers differ byte by byte without the
/// object differing, so it is part of the tag but not of the comparison in `If-Match`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ETag {
    version: i32,
    form: Option<&'static str>,
    beside: Option<String>,
}

impl ETag {
    /// The tag of this version.
    pub fn of(version: i32) -> Self {
        Self { version, form: None, beside: None }
    }

    /// The tag of this version in this form.
    #[must_use]
    pub fn in_form(mut self, form: &'static str) -> Self {
        self.form = Some(form);
        self
    }

    /// The same beside something that the answer says too, and that changes without the object.
    ///
    /// Like the form it is no part of the comparison in `If-Match`.
    ///
    /// # Errors
    /// When it can't be written down.
    pub fn and(mut self, said_too: &impl Serialize) -> Result<Self, ApiError> {
        let hash = Sha256::digest(serde_json::to_vec(said_too).map_err(ApiError::internal)?);
        self.beside = hash.first_chunk().map(|part| format!("{:016x}", u64::from_be_bytes(*part)));
        Ok(self)
    }

    /// As actix knows it.
    pub fn entity_tag(&self) -> EntityTag {
        let parts = self.form.into_iter().chain(self.beside.as_deref());
        EntityTag::new_strong(parts.fold(self.version.to_string(), |tag, part| tag + "." + part))
    }
}

/// What the caller says about the version it means to change.
#[derive(Debug, Clone)]
pub enum IfMatch {
    /// No header.
    Absent,
    /// `*`: whatever is there.
    Any,
    /// One of these.
    Versions(Vec<i32>),
}

impl IfMatch {
    /// The versions that may be changed; call it once the object is known to be there.
    ///
    /// # Errors
    /// 428 when the header is absent.
    pub fn needed(self) -> Result<Expected, ApiError> {
        match self {
            Self::Absent => Err(ApiError::new(
                ProblemCode::PreconditionRequired,
                ProblemCode::PreconditionRequired.meaning(),
            )),
            Self::Any => Ok(Expected(None)),
            Self::Versions(versions) => Ok(Expected(Some(versions))),
        }
    }

    /// Like [`IfMatch::needed`], but no header means any version.
    pub fn or_any(self) -> Expected {
        match self {
            Self::Absent | Self::Any => Expected(None),
            Self::Versions(versions) => Expected(Some(versions)),
        }
    }
}

/// The versions that may be changed; `None` is any.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Expected(pub Option<Vec<i32>>);

impl Expected {
    /// Whether this version may be changed.
    pub fn has(&self, version: i32) -> bool {
        self.0.as_ref().is_none_or(|versions| versions.contains(&version))
    }

    /// Refuses a version that may not be changed.
    ///
    /// # Errors
    /// 412 when the object has moved on.
    pub fn check(&self, version: i32) -> Result<(), ApiError> {
        if self.has(version) { Ok(()) } else { Err(stale()) }
    }
}

/// The object has moved on since the caller read it.
pub fn stale() -> ApiError {
    ApiError::new(ProblemCode::Stale, ProblemCode::Stale.meaning())
}

/// Says whether a write that was tied to a version found its row.
///
/// # Errors
/// 412 when someone else was faster.
pub fn one_row(rows_affected: u64) -> Result<(), ApiError> {
    if rows_affected == 0 { Err(stale()) } else { Ok(()) }
}

impl FromRequest for IfMatch {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        ready(Ok(read(request)))
    }
}

/// A tag that is weak, broken or not ours matches no version.
fn read(request: &HttpRequest) -> IfMatch {
    if !request.headers().contains_key(IF_MATCH) {
        return IfMatch::Absent;
    }
    match IfMatchHeader::parse(request) {
        Ok(IfMatchHeader::Any) => IfMatch::Any,
        Ok(IfMatchHeader::Items(tags)) => IfMatch::Versions(
            tags.iter()
                .filter(|tag| !tag.weak)
                .filter_map(|tag| tag.tag().split('.').next()?.parse().ok())
                .collect(),
        ),
        Err(_) => IfMatch::Versions(Vec::new()),
    }
}

#[cfg(test)]
mod tests {
    use super::{ETag, Expected, IfMatch, read};
    use actix_web::test::TestRequest;

    fn expected(header: &str) -> Expected {
        let request = TestRequest::default().insert_header(("If-Match", header)).to_http_request();
        read(&request).needed().expect("header is there")
    }

    #[test]
    fn a_tag_carries_its_version_and_form() {
        assert_eq!(ETag::of(3).entity_tag().to_string(), "\"3\"");
        assert_eq!(ETag::of(3).in_form("us").entity_tag().to_string(), "\"3.us\"");
        let tag = |said| ETag::of(3).in_form("us").and(&said).expect("a hash").entity_tag();
        assert_eq!(tag("worn"), tag("worn"));
        assert!(tag("worn") != tag("mended") && expected(&tag("worn").to_string()).has(3));
    }

    #[test]
    fn strong_tags_lists_and_star_match_weak_ones_never() {
        assert!(expected("\"3\"").has(3));
        assert!(expected("\"3.si\"").has(3));
        assert!(expected("\"2\", \"3\"").has(3));
        assert!(expected("*").has(3));
        assert!(!expected("W/\"3\"").has(3));
        assert!(!expected("\"4\"").has(3));
        assert!(!expected("nonsense").has(3));
        let bare = TestRequest::default().to_http_request();
        assert!(matches!(read(&bare), IfMatch::Absent));
        assert!(read(&bare).needed().is_err());
    }
}
