//! The outermost layer: request id, one log line, the body of every problem, safe headers, and no
//! panic that reaches a caller.

use std::panic::AssertUnwindSafe;
use std::time::Instant;

use actix_cors::CorsError;
use actix_web::body::{BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::error::InternalError;
use actix_web::http::StatusCode;
use actix_web::http::header::{
    CACHE_CONTROL, CONTENT_LENGTH, CONTENT_SECURITY_POLICY, CONTENT_TYPE, HeaderMap, HeaderName,
    HeaderValue, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use actix_web::middleware::Next;
use actix_web::web::Data;
use actix_web::{Error, HttpMessage, HttpResponse};
use futures_util::FutureExt;
use tracing::Instrument;

use super::error::ApiError;
use super::limits::slow_body::is_too_slow;
use super::problem::ProblemCode;
use super::request_id::{self, RequestId};
use super::trace::{self, TraceContext};
use crate::app::AppState;
use crate::routes::SECRET_PATHS;

/// Wraps every request.
pub async fn boundary(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let started = Instant::now();
    let id = match request.app_data::<Data<AppState>>() {
        Some(state) => RequestId::of(&request, &state.ids),
        None => RequestId("unknown".to_owned()),
    };
    let trace = TraceContext::of(request.headers());
    let span = tracing::info_span!(
        "request", id = %id.0, trace_id = %trace.trace_id(), method = %request.method(),
        path = shown_path(request.path()),
    );
    let names = Names { id, trace: trace.header() };
    request.extensions_mut().insert(names.id.clone());
    request.extensions_mut().insert(trace);
    let outcome =
        AssertUnwindSafe(next.call(request)).catch_unwind().instrument(span.clone()).await;
    let _entered = span.enter();
    let answer = match outcome {
        Ok(Ok(answer)) => Ok(answered(answer.map_into_boxed_body(), &names)),
        Ok(Err(error)) => Err(failed(&error, &names)),
        Err(panic) => Err(panicked(panic.as_ref(), &names)),
    };
    log(&answer, started);
    answer
}

/// Where the path itself is the secret, the log does not tell it.
fn shown_path(path: &str) -> &str {
    let secret = SECRET_PATHS.iter().find(|before| path.starts_with(**before));
    secret.copied().unwrap_or(path)
}

/// What a request goes by: with us, and in all services that work on it.
struct Names {
    id: RequestId,
    trace: String,
}

/// Gives a failed answer its body, and every answer its headers.
fn answered(answer: ServiceResponse<BoxBody>, names: &Names) -> ServiceResponse<BoxBody> {
    let error = answer.response().error();
    let problem = error.map(|error| problem_of(error, answer.status(), &names.id));
    let (request, mut response) = answer.into_parts();
    if let Some(mut problem) = problem {
        keep(response.headers(), problem.headers_mut());
        response = problem;
    }
    complete(response.headers_mut(), names);
    ServiceResponse::new(request, response)
}

fn failed(error: &Error, names: &Names) -> Error {
    let before = error.error_response();
    let mut response = problem_of(error, before.status(), &names.id);
    keep(before.headers(), response.headers_mut());
    complete(response.headers_mut(), names);
    InternalError::from_response("answered", response).into()
}

/// What the layers inside have put on a failed answer stays on it: who may see it, what is left.
fn keep(before: &HeaderMap, headers: &mut HeaderMap) {
    for (name, value) in before {
        if *name != CONTENT_TYPE && *name != CONTENT_LENGTH && !headers.contains_key(name) {
            headers.insert(name.clone(), value.clone());
        }
    }
}

fn panicked(panic: &(dyn std::any::Any + Send), names: &Names) -> Error {
    let said = panic
        .downcast_ref::<&str>()
        .map(ToString::to_string)
        .or_else(|| panic.downcast_ref::<String>().cloned())
        .unwrap_or_else(|| "no message".to_owned());
    let mut response = problem_response(&ApiError::internal(format!("panic: {said}")), &names.id);
    complete(response.headers_mut(), names);
    InternalError::from_response("answered", response).into()
}

/// Turns any error into a problem: ours as it is, the framework's by its status.
fn problem_of(error: &Error, status: StatusCode, id: &RequestId) -> HttpResponse {
    match error.as_error::<ApiError>() {
        Some(ours) => problem_response(ours, id),
        None => problem_response(&framework_error(error, status), id),
    }
}

fn framework_error(error: &Error, status: StatusCode) -> ApiError {
    let code = match status {
        _ if error.as_error::<CorsError>().is_some() => ProblemCode::OriginNotAllowed,
        _ if is_too_slow(error) => ProblemCode::TooSlow,
        StatusCode::PAYLOAD_TOO_LARGE => ProblemCode::BodyTooLarge,
        StatusCode::UNSUPPORTED_MEDIA_TYPE => ProblemCode::UnsupportedMediaType,
        StatusCode::NOT_FOUND => ProblemCode::UnknownPath,
        status if status.is_client_error() => ProblemCode::MalformedJson,
        _ => ProblemCode::Internal,
    };
    ApiError::new(code, code.meaning()).caused_by(error.to_string())
}

/// The one place where an error becomes an answer and a line of the log.
fn problem_response(error: &ApiError, id: &RequestId) -> HttpResponse {
    let code = error.code();
    let chain = error.chain();
    if code.status().is_server_error() {
        tracing::error!(code = code.code(), chain, "{error}");
    } else {
        tracing::debug!(code = code.code(), chain, "{error}");
    }
    let mut builder = HttpResponse::build(code.status());
    for header in error.headers() {
        builder.append_header(header.clone());
    }
    let mut response = builder.json(error.problem(&id.0));
    response
        .headers_mut()
        .insert(CONTENT_TYPE, HeaderValue::from_static("application/problem+json"));
    response
}

/// Headers of every answer; what an operation has set itself stays.
fn complete(headers: &mut HeaderMap, names: &Names) {
    for (name, value) in [(request_id::HEADER, &names.id.0), (trace::RESPONSE, &names.trace)] {
        if let Ok(value) = HeaderValue::from_str(value) {
            headers.insert(name, value);
        }
    }
    let mut default = |name: HeaderName, value: &'static str| {
        if !headers.contains_key(&name) {
            headers.insert(name, HeaderValue::from_static(value));
        }
    };
    default(X_CONTENT_TYPE_OPTIONS, "nosniff");
    default(X_FRAME_OPTIONS, "DENY");
    default(REFERRER_POLICY, "no-referrer");
    default(CACHE_CONTROL, "private, no-cache");
    default(CONTENT_SECURITY_POLICY, "default-src 'none'; frame-ancestors 'none'");
}

fn log(answer: &Result<ServiceResponse<BoxBody>, Error>, started: Instant) {
    let status = match answer {
        Ok(answer) => answer.status().as_u16(),
        Err(error) => error.as_response_error().status_code().as_u16(),
    };
    let milliseconds = started.elapsed().as_secs_f64() * 1e3;
    tracing::info!(status, milliseconds = format!("{milliseconds:.1}"), "answered");
}
