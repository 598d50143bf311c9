//! What the API document says of limits: the layers around the operations refuse for all of them.

use utoipa::openapi::OpenApi;

use crate::document::operations_mut;
use crate::http::problem::ProblemCode;
use crate::http::responses;

/// What any operation may answer, before it is even reached.
const ANY: &[ProblemCode] = &[
    ProblemCode::NotAcceptable,
    ProblemCode::AddressTooLong,
    ProblemCode::TooManyRequests,
    ProblemCode::HeadersTooLarge,
];
/// What an operation with a body may answer beside.
const WITH_BODY: &[ProblemCode] = &[ProblemCode::TooSlow, ProblemCode::UnsupportedEncoding];

/// Names these errors with every operation.
pub fn describe(document: &mut OpenApi) {
    for operation in operations_mut(document) {
        responses::add(&mut operation.responses, ANY);
        if operation.request_body.is_some() {
            responses::add(&mut operation.responses, WITH_BODY);
        }
    }
}
