//! The head of a request: how long its address and its headers may be, and how its body is sent.

use actix_web::Error;
use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{ACCEPT_ENCODING, CONTENT_ENCODING, HeaderMap, HeaderValue};
use actix_web::middleware::Next;

use crate::http::error::ApiError;
use crate::http::problem::ProblemCode;

/// Longest address, path and query together.
pub const LONGEST_ADDRESS: usize = 8192;
/// Most room for all headers, names and values together. The server itself takes no more than 96
/// headers, and gives up on a head of 128 KiB.
pub const MOST_HEADERS: usize = 32_768;

/// Refuses a head that is out of all proportion, and a body that is packed.
pub async fn check_head<B: MessageBody + 'static>(
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<B>, Error> {
    check(&request)?;
    next.call(request).await
}

fn check(request: &ServiceRequest) -> Result<(), ApiError> {
    let plain = |code: ProblemCode| Err(ApiError::new(code, code.meaning()));
    let address = request.uri().path_and_query().map_or(0, |address| address.as_str().len());
    if address > LONGEST_ADDRESS {
        return plain(ProblemCode::AddressTooLong);
    }
    let headers = request.headers();
    let room = headers.iter().map(|(name, value)| name.as_str().len() + value.len());
    if room.sum::<usize>() > MOST_HEADERS {
        return plain(ProblemCode::HeadersTooLarge);
    }
    if is_packed(headers) {
        let error = ApiError::new(
            ProblemCode::UnsupportedEncoding,
            ProblemCode::UnsupportedEncoding.meaning(),
        );
        return Err(error.with_header(ACCEPT_ENCODING, HeaderValue::from_static("identity")));
    }
    Ok(())
}

/// A small packed body can unfold to any size.
fn is_packed(headers: &HeaderMap) -> bool {
    headers.get_all(CONTENT_ENCODING).any(|value| {
        let codings = value.to_str().unwrap_or("unreadable");
        codings.split(',').any(|coding| !coding.trim().eq_ignore_ascii_case("identity"))
    })
}

#[cfg(test)]
mod tests {
    use super::{LONGEST_ADDRESS, MOST_HEADERS, check};
    use crate::http::ProblemCode;
    use actix_web::test::TestRequest;

    fn code(request: TestRequest) -> Option<ProblemCode> {
        check(&request.to_srv_request()).err().map(|error| error.code())
    }

    #[test]
    fn an_address_has_an_end() {
        let address = |length: usize| format!("/?{}", "x".repeat(length - 2));
        assert_eq!(code(TestRequest::with_uri(&address(LONGEST_ADDRESS))), None);
        let long = code(TestRequest::with_uri(&address(LONGEST_ADDRESS + 1)));
        assert_eq!(long, Some(ProblemCode::AddressTooLong));
    }

    #[test]
    fn headers_have_an_end() {
        let header = |length: usize| ("x-a", "x".repeat(length));
        let fits = TestRequest::default().insert_header(header(MOST_HEADERS - 3));
        assert_eq!(code(fits), None);
        let large = TestRequest::default().insert_header(header(MOST_HEADERS - 2));
        assert_eq!(code(large), Some(ProblemCode::HeadersTooLarge));
    }

    #[test]
    fn a_packed_body_is_refused() {
        let packed = |coding: &str| {
            code(TestRequest::default().insert_header(("content-encoding", coding.to_owned())))
        };
        assert_eq!(packed("identity"), None);
        for coding in ["gzip", "br", "identity, gzip", "x-unheard-of", ""] {
            assert_eq!(packed(coding), Some(ProblemCode::UnsupportedEncoding), "{coding}");
        }
    }
}
