//! The error of every operation: a message for the caller, and privately its source.

use std::error::Error;
use std::fmt;

use actix_web::http::StatusCode;
use actix_web::http::header::{HeaderName, HeaderValue, RETRY_AFTER, WWW_AUTHENTICATE};
use actix_web::{HttpResponse, ResponseError};
use sea_orm::{DbErr, RuntimeErr, SqlErr};

use super::member::BadMember;
use super::problem::{Problem, ProblemCode};

/// Why an operation failed. The source goes to the log and never to the caller.
#[derive(Debug)]
pub struct ApiError(Box<Inner>);

#[derive(Debug)]
struct Inner {
    code: ProblemCode,
    detail: String,
    members: Vec<BadMember>,
    headers: Vec<(HeaderName, HeaderValue)>,
    source: Option<Box<dyn Error + Send + Sync>>,
}

impl ApiError {
    /// An error of this row of the table; `detail` is for the caller.
    pub fn new(code: ProblemCode, detail: impl Into<String>) -> Self {
        Self(Box::new(Inner {
            code,
            detail: detail.into(),
            members: Vec::new(),
            headers: Vec::new(),
            source: None,
        }))
    }

    /// There is no such object, or it is someone else's. `what` as in "grower".
    pub fn not_found(what: &str) -> Self {
        Self::new(ProblemCode::NotFound, format!("There is no such {what}."))
    }

    /// A fault on our side; the caller learns nothing but the request id.
    pub fn internal(source: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        Self::new(ProblemCode::Internal, ProblemCode::Internal.meaning()).caused_by(source)
    }

    /// The caller sends no token (RFC 6750, section 3.1: nothing is said about errors then).
    pub fn no_token() -> Self {
        Self::new(
            ProblemCode::Unauthenticated,
            "Send the access token of POST /v1/sessions as Authorization: Bearer.",
        )
        .with_header(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"))
    }

    /// The caller's token is not valid; `why` is shown.
    pub fn unauthenticated(why: &str) -> Self {
        let challenge = HeaderValue::from_static("Bearer error=\"invalid_token\"");
        Self::new(ProblemCode::Unauthenticated, why).with_header(WWW_AUTHENTICATE, challenge)
    }

    /// The caller's role, or the scope of the token, does not hold `scope`; `why` is shown.
    pub fn forbidden(why: impl Into<String>, scope: &'static str) -> Self {
        let challenge = format!("Bearer error=\"insufficient_scope\", scope=\"{scope}\"");
        let error = Self::new(ProblemCode::Forbidden, why);
        match HeaderValue::from_str(&challenge) {
            Ok(challenge) => error.with_header(WWW_AUTHENTICATE, challenge),
            Err(_no_text) => error,
        }
    }

    /// Try again after `seconds`.
    pub fn try_later(code: ProblemCode, detail: impl Into<String>, seconds: u64) -> Self {
        Self::new(code, detail).with_header(RETRY_AFTER, HeaderValue::from(seconds))
    }

    /// Keeps the cause for the log.
    #[must_use]
    pub fn caused_by(mut self, source: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        self.0.source = Some(source.into());
        self
    }

    /// Adds a header to the answer.
    #[must_use]
    pub fn with_header(mut self, name: HeaderName, value: HeaderValue) -> Self {
        self.0.headers.push((name, value));
        self
    }

    /// Names the members that are not valid.
    #[must_use]
    pub fn with_members(mut self, members: Vec<BadMember>) -> Self {
        self.0.members = members;
        self
    }

    /// The row of the table.
    pub fn code(&self) -> ProblemCode {
        self.0.code
    }

    /// The members that are not valid.
    pub fn members(&self) -> &[BadMember] {
        &self.0.members
    }

    /// The headers that go with the answer.
    pub fn headers(&self) -> &[(HeaderName, HeaderValue)] {
        &self.0.headers
    }

    /// The body for the caller.
    pub fn problem(&self, request_id: &str) -> Problem {
        let code = self.0.code;
        Problem {
            r#type: code.type_uri(),
            title: code.title().to_owned(),
            status: code.status().as_u16(),
            detail: self.0.detail.clone(),
            code: code.code().to_owned(),
            request_id: request_id.to_owned(),
            errors: self.0.members.iter().take(Problem::MOST_ERRORS).cloned().collect(),
        }
    }

    /// The causes, outermost first, for the log.
    pub fn chain(&self) -> String {
        let mut text = String::new();
        let mut next = self.source();
        while let Some(error) = next {
            if !text.is_empty() {
                text.push_str(": ");
            }
            text.push_str(&error.to_string());
            next = error.source();
        }
        text
    }
}

impl fmt::Display for ApiError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.0.code.code(), self.0.detail)
    }
}

impl Error for ApiError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        self.0.source.as_deref().map(|source| {
            let source: &(dyn Error + 'static) = source;
            source
        })
    }
}

impl ResponseError for ApiError {
    fn status_code(&self) -> StatusCode {
        self.0.code.status()
    }

    /// Without a body: `boundary` writes it, since only it knows the request id.
    fn error_response(&self) -> HttpResponse {
        HttpResponse::new(self.status_code())
    }
}

/// Races are decided by the database: a broken rule is the caller's conflict, all else our fault.
impl From<DbErr> for ApiError {
    fn from(error: DbErr) -> Self {
        match error.sql_err() {
            Some(SqlErr::UniqueConstraintViolation(_)) => {
                Self::new(ProblemCode::AlreadyExists, ProblemCode::AlreadyExists.meaning())
                    .caused_by(error)
            }
            Some(SqlErr::ForeignKeyConstraintViolation(_)) => {
                Self::new(ProblemCode::InUse, ProblemCode::InUse.meaning()).caused_by(error)
            }
            _ if is_passing(&error) => Self::try_later(
                ProblemCode::Unavailable,
                "The database does not answer. Try again in a moment.",
                2,
            )
            .caused_by(error),
            _ => Self::internal(error),
        }
    }
}

/// Whether trying again may help: no connection to be had, SQLite's one writer is busy, or two writes waited for
/// each other.
fn is_passing(error: &DbErr) -> bool {
    match error {
        DbErr::ConnectionAcquire(_) | DbErr::Conn(_) => true,
        DbErr::Exec(RuntimeErr::SqlxError(inner)) | DbErr::Query(RuntimeErr::SqlxError(inner)) => {
            match &**inner {
                sea_orm::sqlx::Error::Database(refusal) => {
                    matches!(
                        refusal.code().as_deref(),
                        Some("5" | "261" | "517" | "57P01" | "53300" | "40P01" | "40001")
                    )
                }
                sea_orm::sqlx::Error::Io(_)
                | sea_orm::sqlx::Error::PoolTimedOut
                | sea_orm::sqlx::Error::PoolClosed => true,
                _ => false,
            }
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::{ApiError, BadMember, Problem};

    #[test]
    fn the_cause_is_for_the_log_only() {
        let error = ApiError::internal("table accounts is locked");
        let body = serde_json::to_string(&error.problem("r1")).expect("json");
        assert!(!body.contains("accounts"), "{body}");
        assert!(error.chain().contains("accounts"));
    }

    #[test]
    fn the_list_of_bad_members_has_an_end_and_the_count_does_not() {
        let bad: Vec<BadMember> =
            (0..1001).map(|n| BadMember::new(format!("/values/{n}"), "Not a length.")).collect();
        let problem = ApiError::from(bad).problem("r1");
        assert_eq!(problem.errors.len(), Problem::MOST_ERRORS);
        assert!(problem.detail.starts_with("1001 "), "{}", problem.detail);
    }
}
