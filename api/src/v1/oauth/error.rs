//! The errors of the token endpoint: their form is that of RFC 6749, section 5.2, not a problem.

use std::collections::BTreeMap;

use actix_web::HttpResponse;
use actix_web::http::StatusCode;
use actix_web::http::header::{CACHE_CONTROL, PRAGMA, RETRY_AFTER, WWW_AUTHENTICATE};
use utoipa::openapi::{ContentBuilder, Ref, RefOr, Response, ResponseBuilder};

use super::dto::OauthError;
use crate::http::{ApiError, ProblemCode};

/// Why no token is issued.
#[derive(Debug)]
pub(super) enum Refusal {
    /// The request has not the form that the standard asks for.
    InvalidRequest(&'static str),
    /// The client is not known, shut out, or its secret is wrong: which, is not said.
    InvalidClient,
    /// The client has not all that it asks for.
    InvalidScope,
    /// The grant is not that of machine clients.
    UnsupportedGrantType,
    /// Too many wrong secrets: wait so many seconds.
    SlowDown(u64),
    /// A fault on our side.
    Fault(ApiError),
}

impl From<ApiError> for Refusal {
    fn from(error: ApiError) -> Self {
        Self::Fault(error)
    }
}

impl From<sea_orm::DbErr> for Refusal {
    fn from(error: sea_orm::DbErr) -> Self {
        Self::Fault(error.into())
    }
}

impl Refusal {
    fn row(&self) -> (StatusCode, &'static str, &'static str) {
        match self {
            Self::InvalidRequest(why) => (StatusCode::BAD_REQUEST, "invalid_request", why),
            Self::InvalidClient => (
                StatusCode::UNAUTHORIZED,
                "invalid_client",
                "The client is not known, or its secret is wrong.",
            ),
            Self::InvalidScope => (
                StatusCode::BAD_REQUEST,
                "invalid_scope",
                "The client does not have every scope that it asks for.",
            ),
            Self::UnsupportedGrantType => (
                StatusCode::BAD_REQUEST,
                "unsupported_grant_type",
                "The one grant type here is client_credentials.",
            ),
            Self::SlowDown(_) => (
                StatusCode::TOO_MANY_REQUESTS,
                "slow_down",
                "Too many wrong secrets. Wait as long as Retry-After says.",
            ),
            Self::Fault(error) if error.code() == ProblemCode::Unavailable => (
                StatusCode::SERVICE_UNAVAILABLE,
                "temporarily_unavailable",
                "The service can not answer now. Try again in a moment.",
            ),
            Self::Fault(_) => (
                StatusCode::INTERNAL_SERVER_ERROR,
                "server_error",
                "A fault on our side. It is logged under the id in x-request-id.",
            ),
        }
    }

    /// The answer.
    pub(super) fn answer(&self) -> HttpResponse {
        let (status, error, description) = self.row();
        let mut answer = HttpResponse::build(status);
        answer.insert_header((CACHE_CONTROL, "no-store")).insert_header((PRAGMA, "no-cache"));
        match self {
            Self::InvalidClient => {
                answer.insert_header((WWW_AUTHENTICATE, "Basic realm=\"dibble\""));
            }
            Self::SlowDown(seconds) => {
                answer.insert_header((RETRY_AFTER, *seconds));
            }
            Self::Fault(fault) => {
                tracing::error!(chain = fault.chain(), "no token: {fault}");
                for header in fault.headers() {
                    answer.append_header(header.clone());
                }
            }
            Self::InvalidRequest(_) | Self::InvalidScope | Self::UnsupportedGrantType => {}
        }
        answer
            .json(OauthError { error: error.to_owned(), error_description: description.to_owned() })
    }
}

/// The errors, for the API document.
#[derive(Debug, Clone, Copy)]
pub(super) struct TokenErrors;

impl utoipa::IntoResponses for TokenErrors {
    fn responses() -> BTreeMap<String, RefOr<Response>> {
        let rows = [
            ("400", "`invalid_request`, `invalid_scope` or `unsupported_grant_type`."),
            ("401", "`invalid_client`: the client is not known, shut out, or its secret is wrong."),
            ("429", "`slow_down`: too many wrong secrets; `Retry-After` says how long to wait."),
            ("500", "`server_error`: a fault on our side."),
            ("503", "`temporarily_unavailable`: try again after the time in `Retry-After`."),
        ];
        rows.into_iter()
            .map(|(status, description)| {
                (status.to_owned(), RefOr::T(described(status, description)))
            })
            .collect()
    }
}

/// What goes wrong before the request comes to this operation, such as a limit on requests, is a
/// problem as everywhere; that has other statuses than a refused client.
fn described(status: &str, description: &str) -> Response {
    let content = |name| ContentBuilder::new().schema(Some(Ref::from_schema_name(name))).build();
    let mut response = ResponseBuilder::new()
        .description(description)
        .content("application/json", content("OauthError"));
    if matches!(status, "429" | "500" | "503") {
        response = response.content("application/problem+json", content("Problem"));
    }
    response.build()
}

#[cfg(test)]
mod tests {
    use super::Refusal;
    use crate::http::ApiError;

    /// RFC 6749, section 5.2: no quotation mark, no backslash, nothing but ASCII to read.
    #[test]
    fn descriptions_have_only_letters_that_the_standard_allows() {
        for refusal in [
            Refusal::InvalidRequest("x"),
            Refusal::InvalidClient,
            Refusal::InvalidScope,
            Refusal::UnsupportedGrantType,
            Refusal::SlowDown(1),
            Refusal::Fault(ApiError::internal("x")),
        ] {
            let (_, error, description) = refusal.row();
            for text in [error, description] {
                assert!(text.bytes().all(|b| matches!(b, b' '..=b'~') && b != b'"' && b != b'\\'));
            }
        }
    }
}
