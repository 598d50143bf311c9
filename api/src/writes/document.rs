//! What the API document says of keys.

use utoipa::IntoParams;
use utoipa::openapi::header::{Header, HeaderBuilder};
use utoipa::openapi::path::{Operation, PathItem};
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{OpenApi, RefOr};

use crate::http::ProblemCode;
use crate::http::responses;

/// The header of a request that may be sent again.
#[derive(Debug, IntoParams)]
#[into_params(parameter_in = Header)]
pub struct IdempotencyKey {
    /// Makes it safe to send the request again: a key of your choice, new for each request, such as a
    /// random UUID; bare or as a quoted string. Within 48 hours the same request with the same key
    /// gets the same answer and nothing is done twice.
    #[expect(dead_code, reason = "only described: `Write` reads it from the request")]
    #[param(
        rename = "Idempotency-Key",
        nullable = false,
        min_length = 1,
        max_length = 257,
        pattern = r"^[\x21-\x7E]+$",
        example = "8e03978e-40d5-43e8-bc93-6894a57f9324"
    )]
    key: Option<String>,
}

const HEADER: &str = "Idempotency-Key";
const REPLAYED: &str = "Idempotency-Replayed";

/// Names what follows from the header wherever an operation takes it: the errors of keys, and the
/// header of an answer that was given before.
pub fn describe(document: &mut OpenApi) {
    for item in document.paths.paths.values_mut() {
        let PathItem { post, put, patch, delete, .. } = item;
        for operation in [post, put, patch, delete].into_iter().flatten() {
            if takes_a_key(operation) {
                describe_operation(operation);
            }
        }
    }
}

fn takes_a_key(operation: &Operation) -> bool {
    let mut parameters = operation.parameters.iter().flatten();
    parameters.any(|it| matches!(it, RefOr::T(parameter) if parameter.name == HEADER))
}

fn describe_operation(operation: &mut Operation) {
    let codes = [
        ProblemCode::RequestUnderWay,
        ProblemCode::AnswerNotKept,
        ProblemCode::KeyReused,
        ProblemCode::InvalidRequest,
    ];
    responses::add(&mut operation.responses, &codes);
    for (status, response) in &mut operation.responses.responses {
        if let (true, RefOr::T(response)) = (status.starts_with('2'), response) {
            response.headers.insert(REPLAYED.to_owned(), RefOr::T(replayed()));
        }
    }
}

fn replayed() -> Header {
    let schema = ObjectBuilder::new().schema_type(Type::String).enum_values(Some(["true"]));
    let said = "There when the answer was given before to the same `Idempotency-Key`.";
    HeaderBuilder::new().schema(Some(schema)).description(Some(said)).build()
}
