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
    SessionEnded = "session_ended", UNAUTHORIZED, "The session has ended",
        "The refresh token does not work: it was used before, has expired, was never ours, or the session was ended. Sign in again.";
    LinkNotGood = "link_not_good", UNAUTHORIZED, "The link does not work",
        "The link was used, has expired, was revoked, or never was. Ask your advisor for a new one.";
    Forbidden = "forbidden", FORBIDDEN, "Your role or your token does not allow this",
        "You are signed in, but your role may not do this, or the scope of your access token is too narrow. The header `WWW-Authenticate` names the scope that is needed.";
    LinkGone = "link_gone", GONE, "The link does not work",
        "The link was used before, has expired, was replaced by a newer one, or never was. Ask for a new one.";
    NotFound = "not_found", NOT_FOUND, "There is no such object",
        "No object with this id exists, or it is not yours.";
    UnknownPath = "unknown_path", NOT_FOUND, "There is no such path",
        "The service has nothing under this path. Check it against the list of operations.";
    OriginNotAllowed = "origin_not_allowed", FORBIDDEN, "A page of this origin may not do this",
        "Whoever runs the service names the web pages that may use it from a browser, and what they may send.";
    MethodNotAllowed = "method_not_allowed", METHOD_NOT_ALLOWED, "The path does not take this method",
        "The header `Allow` lists the methods that this path takes.";
    NotAcceptable = "not_acceptable", NOT_ACCEPTABLE, "The answer is in no form that you take",
        "Each operation answers in one form. List it in the header `Accept`, or send none.";
    TooSlow = "too_slow", REQUEST_TIMEOUT, "The request did not arrive in time",
        "The body came too slowly, and nothing was changed. Send it again over a better connection, or in smaller parts.";
    DecisionNeeded = "decision_needed", CONFLICT, "A person must decide",
        "What was sent is kept, but a person must say which object it is, or which side of a conflict holds. `detail` says where. Sending it again changes nothing.";
    AlreadyExists = "already_exists", CONFLICT, "An object of this name exists already",
        "A name can be given only once here. Choose another, or change the object that has it.";
    InUse = "in_use", CONFLICT, "Other objects depend on this one",
        "The object can't be deleted while others refer to it.";
    WrongState = "wrong_state", CONFLICT, "The object is not in a state that allows this",
        "Read the object anew: its status does not allow this step, or no longer.";
    RequestUnderWay = "request_under_way", CONFLICT, "The same request is being carried out",
        "A request with this `Idempotency-Key` is not finished. Send it again after the time in the header `Retry-After`.";
    AnswerNotKept = "answer_not_kept", CONFLICT, "The request was carried out, its answer was not kept",
        "A request with this `Idempotency-Key` was carried out. What it answered is shown only once. Look at what is there, or send a new request with a new key.";
    Stale = "stale", PRECONDITION_FAILED, "The object has changed since you read it",
        "Read the object anew, look at the change, and send yours with the new `ETag` in `If-Match`.";
    BodyTooLarge = "body_too_large", PAYLOAD_TOO_LARGE, "The body is too large",
        "Send less at once.";
    AddressTooLong = "address_too_long", URI_TOO_LONG, "The address is too long",
        "Path and query together have at most 8192 bytes.";
    UnsupportedMediaType = "unsupported_media_type", UNSUPPORTED_MEDIA_TYPE, "The body must be JSON",
        "Send `Content-Type: application/json`.";
    UnsupportedEncoding = "unsupported_encoding", UNSUPPORTED_MEDIA_TYPE, "The body must not be compressed",
        "Send the body as it is, without `Content-Encoding`.";
    InvalidRequest = "invalid_request", UNPROCESSABLE_ENTITY, "The request is not valid",
        "`errors` names each member, what was given, what is allowed, and why.";
    KeyReused = "key_reused", UNPROCESSABLE_ENTITY, "The key was used for another request",
        "This `Idempotency-Key` came with another request before. Take a new key for each request.";
    OutsideValidity = "outside_validity", UNPROCESSABLE_ENTITY, "The numbers do not hold here",
        "The request is well formed, but lies outside the range in which the calculation holds.";
    PreconditionRequired = "precondition_required", PRECONDITION_REQUIRED, "Say which version you change",
        "Send the `ETag` of the version you read as `If-Match`.";
    HeadersTooLarge = "headers_too_large", REQUEST_HEADER_FIELDS_TOO_LARGE, "The headers are too large",
        "All headers together have at most 32768 bytes.";
    TooManyRequests = "too_many_requests", TOO_MANY_REQUESTS, "Too many requests",
        "Wait as long as the header `Retry-After` says.";
    Internal = "internal", INTERNAL_SERVER_ERROR, "A fault on our side",
        "The fault is logged under the request id. Give it to whoever runs the service.";
    NoSealingKey = "no_sealing_key", SERVICE_UNAVAILABLE, "The service can't keep secrets yet",
        "The operator of the service has not set `DIBBLE_SEALING_KEYS`, so it can't keep a secret of another system. Ask the operator.";
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
    /// One entry for each member that is not valid, the first 1000 of them; `detail` counts all. Empty for
    /// other problems.
    #[schema(max_items = 1000)]
    pub errors: Vec<BadMember>,
}

impl Problem {
    /// Most entries of `errors`.
    pub const MOST_ERRORS: usize = 1000;
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
