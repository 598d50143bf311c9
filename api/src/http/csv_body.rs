//! A body of comma-separated values (RFC 4180, `text/csv`).

use actix_web::dev::Payload;
use actix_web::http::header::{ACCEPT, HeaderValue};
use actix_web::web::Bytes;
use actix_web::{FromRequest, HttpMessage, HttpRequest};
use futures_util::future::LocalBoxFuture;

use super::body::{SentBody, unreadable};
use super::error::ApiError;
use super::problem::ProblemCode;

/// The text of a body that says it is `text/csv`, without a byte order mark.
#[derive(Debug)]
pub struct CsvBody(pub String);

impl FromRequest for CsvBody {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let is_csv = request.content_type().eq_ignore_ascii_case("text/csv");
        let bytes = Bytes::from_request(request, payload);
        let request = request.clone();
        Box::pin(async move {
            if !is_csv {
                return Err(ApiError::new(
                    ProblemCode::UnsupportedMediaType,
                    "Send the body as Content-Type: text/csv.",
                )
                .with_header(ACCEPT, HeaderValue::from_static("text/csv")));
            }
            let bytes = bytes.await.map_err(|error| unreadable(&error))?;
            request.extensions_mut().insert(SentBody(bytes.clone()));
            text(&bytes).map(Self)
        })
    }
}

fn text(bytes: &[u8]) -> Result<String, ApiError> {
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.to_owned()),
        Err(error) => {
            let good = bytes.get(..error.valid_up_to()).unwrap_or_default();
            let line = good.split(|byte| *byte == b'\n').count();
            let detail = format!("Line {line} is not UTF-8: save the file as UTF-8.");
            Err(super::BadMember::new(format!("#row={line}"), detail).into())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::text;

    #[test]
    fn a_byte_order_mark_goes_and_other_text_than_utf_8_is_refused_by_line() {
        assert_eq!(text(b"\xef\xbb\xbfday,high").expect("text"), "day,high");
        assert_eq!(text(b"day").expect("text"), "day");
        let error = text(b"day\nhigh \xb0F\n").expect_err("Latin 1");
        assert_eq!(error.members()[0].pointer, "#row=2");
    }
}
