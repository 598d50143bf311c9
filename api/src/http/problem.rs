//! The one closed table of what can go wrong, and the body that says so (RFC 9457).

use actix_web::http::StatusCode;
use serde::Serialize;
use utoipa::ToSchema;

use super::member::BadMember;

macro_rules! problem_codes {
    ($($variant:ident = $code:literal, $status:ident, $title:literal, $meaning:literal;)*) => {
        /// One row of the table of problems. A code never changes its meaning.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum ProblemCode {
            $(#[doc = $meaning] $variant,)*
        }

        impl ProblemCode {
            /// Every row, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];

            /// The stable name that programs test for.
            pub const fn code(self) -> &'static str {
                match self { $(Self::$variant => $code,)* }
            }

            /// The status of the answer.
            pub const fn status(self) -> StatusCode {
                match self { $(Self::$variant => StatusCode::$status,)* }
            }

            /// A short title, the same each time.
            pub const fn title(self) -> &'static str {
                match self { $(Self::$variant => $title,)* }
            }

            /// What it means and what to do.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$variant => $meaning,)* }
            }
        }
    };
}

problem_codes! {
    MalformedJson = "malformed_json", BAD_REQUEST, "The body is not JSON",
        "The body can't be read as JSON. Mend it and send it again.";
    Unauthenticated = "unauthenticated", UNAUTHORIZED, "A valid access token is needed",
        "The access token is missing, has expired or is not ours. Sign in again.";
    WrongCredentials = "wrong_credentials", UNAUTHORIZED, "The e-mail address or the password is wrong",
        "Nobody can sign in with this e-mail address and password.";
    Forbidden = "forbidden", FORBIDDEN, "Your role does not allow this",
        "You are signed in, but your role may not do this. Ask the lead of your practice.";
    NotFound = "not_found", NOT_FOUND, "There is no such object",
        "No object with this id exists, or it is not yours.";
    UnknownPath = "unknown_path", NOT_FOUND, "There is no such path",
        "The service has nothing under this path. Check it against the list of operations.";
    MethodNotAllowed = "method_not_allowed", METHOD_NOT_ALLOWED, "The path does not take this method",
        "The header `Allow` lists the methods that this path takes.";
    AlreadyExists = "already_exists", CONFLICT, "An object of this name exists already",
        "A name can be given only once here. Choose another, or change the object that has it.";
    InUse = "in_use", CONFLICT, "Other objects depend on this one",
        "The object can't be deleted while others refer to it.";
    WrongState = "wrong_state", CONFLICT, "The object is not in a state that allows this",
        "Read the object anew: its status does not allow this step, or no longer.";
    Stale = "stale", PRECONDITION_FAILED, "The object has changed since you read it",
        "Read the object anew, look at the change, and send yours with the new `ETag` in `If-Match`.";
    BodyTooLarge = "body_too_large", PAYLOAD_TOO_LARGE, "The body is too large",
        "Send less at once.";
    UnsupportedMediaType = "unsupported_media_type", UNSUPPORTED_MEDIA_TYPE, "The body must be JSON",
        "Send `Content-Type: application/json`.";
    InvalidRequest = "invalid_request", UNPROCESSABLE_ENTITY, "The request is not valid",
        "`errors` names each member, what was given, what is allowed, and why.";
    OutsideValidity = "outside_validity", UNPROCESSABLE_ENTITY, "The numbers do not hold here",
        "The request is well formed, but lies outside the range in which the calculation holds.";
    PreconditionRequired = "precondition_required", PRECONDITION_REQUIRED, "Say which version you change",
        "Send the `ETag` of the version you read as `If-Match`.";
    TooManyRequests = "too_many_requests", TOO_MANY_REQUESTS, "Too many tries",
        "Wait as long as the header `Retry-After` says.";
    Internal = "internal", INTERNAL_SERVER_ERROR, "A fault on our side",
        "The fault is logged under the request id. Give it to whoever runs the service.";
    Unavailable = "unavailable", SERVICE_UNAVAILABLE, "The service can't answer now",
        "Try again after the time in the header `Retry-After`.";
}

impl ProblemCode {
    /// The row of this code, if there is one.
    pub fn of(code: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|row| row.code() == code)
    }

    /// The `type` of the body: a path of this service that explains the problem.
    pub fn type_uri(self) -> String {
        format!("/problems/{}", self.code())
    }
}

/// What went wrong, for people and for programs (RFC 9457, `application/problem+json`).
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "type": "/problems/invalid_request",
    "title": "The request is not valid",
    "status": 422,
    "detail": "1 member is not valid.",
    "code": "invalid_request",
    "request_id": "01964f1e-6a00-7000-8000-000000000001",
    "errors": [{
        "pointer": "/entered_area",
        "detail": "-3 har is outside 0.04 to 4046.9 har",
        "given": "-3 har",
        "allowed": "0.04 to 4046.9 har",
        "why": "a field has an area"
    }]
})))]
pub struct Problem {
    /// Path of a page that explains this type of problem.
    #[schema(example = "/problems/not_found")]
    pub r#type: String,
    /// Short title of the type.
    #[schema(example = "There is no such object")]
    pub title: String,
    /// The HTTP status, again.
    #[schema(minimum = 400, maximum = 599, example = 404)]
    pub status: u16,
    /// What happened this time.
    #[schema(example = "There is no such grower.")]
    pub detail: String,
    /// Stable name of the type; test for this one.
    #[schema(example = "not_found")]
    pub code: String,
    /// The id of this request, also in the header `x-request-id` and in the log.
    #[schema(example = "01964f1e-6a00-7000-8000-000000000001")]
    pub request_id: String,
    /// One entry for each member that is not valid. Empty for other problems.
    #[schema(max_items = 1000)]
    pub errors: Vec<BadMember>,
}

#[cfg(test)]
mod tests {
    use super::ProblemCode;
    use std::collections::BTreeSet;

    #[test]
    fn codes_are_unique_snake_case_and_errors() {
        let codes: BTreeSet<_> = ProblemCode::ALL.iter().map(|row| row.code()).collect();
        assert_eq!(codes.len(), ProblemCode::ALL.len());
        for row in ProblemCode::ALL {
            assert!(row.code().bytes().all(|b| b.is_ascii_lowercase() || b == b'_'), "{row:?}");
            assert!(row.status().is_client_error() || row.status().is_server_error(), "{row:?}");
            assert_eq!(ProblemCode::of(row.code()), Some(*row));
        }
    }
}
