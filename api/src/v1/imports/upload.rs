//! The body of a file: larger than other bodies may be, in any encoding that is certain.

use actix_web::dev::Payload;
use actix_web::http::header::{ACCEPT, HeaderValue};
use actix_web::web::{self, Bytes};
use actix_web::{FromRequest, HttpMessage, HttpRequest};
use futures_util::future::LocalBoxFuture;

use crate::exchange::files::decode::{Decoded, decode};
use crate::exchange::forms::task_data::{TaskFiles, declared, unpack};
use crate::http::body::{SentBody, unreadable};
use crate::http::{ApiError, ProblemCode};

/// Most bytes of a file.
pub(super) const MOST_BYTES: usize = 16 * 1024 * 1024;

/// A file of comma-separated values.
#[derive(Debug)]
pub(super) struct CsvFile(pub Decoded);

/// A file of GeoJSON.
#[derive(Debug)]
pub(super) struct GeojsonFile(pub Decoded);

/// A zip of task data, or its `TASKDATA.XML` alone.
#[derive(Debug)]
pub(super) struct TaskDataFile {
    pub files: TaskFiles,
    /// The encoding that the text was read as.
    pub encoding: &'static str,
}

impl FromRequest for TaskDataFile {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let packed = request.content_type().eq_ignore_ascii_case("application/zip");
        let charset = charset(request);
        let types = &["application/zip", "application/xml", "text/xml"];
        let bytes = bytes(request, payload, types);
        Box::pin(async move {
            let bytes = bytes.await?;
            if packed {
                return Ok(Self { files: unpack(&bytes, MOST_BYTES)?, encoding: "UTF-8" });
            }
            let charset = charset.or_else(|| declared(&bytes));
            let Decoded { text, encoding } = decode(&bytes, charset.as_deref())?;
            Ok(Self { files: TaskFiles { tasks: text, links: None }, encoding })
        })
    }
}

impl FromRequest for CsvFile {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let file = file(request, payload, &["text/csv"]);
        Box::pin(async { file.await.map(Self) })
    }
}

impl FromRequest for GeojsonFile {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let file = file(request, payload, &["application/geo+json", "application/json"]);
        Box::pin(async { file.await.map(Self) })
    }
}

fn file(
    request: &HttpRequest,
    payload: &mut Payload,
    types: &'static [&'static str],
) -> impl Future<Output = Result<Decoded, ApiError>> + use<> {
    let charset = charset(request);
    let bytes = bytes(request, payload, types);
    async move { Ok(decode(&bytes.await?, charset.as_deref())?) }
}

/// The bytes of a file of one of these types.
fn bytes(
    request: &HttpRequest,
    payload: &mut Payload,
    types: &'static [&'static str],
) -> impl Future<Output = Result<Bytes, ApiError>> + use<> {
    let taken = types.iter().any(|it| it.eq_ignore_ascii_case(request.content_type()));
    let body = web::Payload::from_request(request, payload).into_inner();
    let request = request.clone();
    async move {
        if !taken {
            return Err(wrong_type(types));
        }
        let body = body.map_err(|error| unreadable(&error))?;
        let bytes = match body.to_bytes_limited(MOST_BYTES).await {
            Ok(bytes) => bytes.map_err(|error| unreadable(&error))?,
            Err(_too_large) => {
                let detail = format!("A file has at most {MOST_BYTES} bytes: send it in parts.");
                return Err(ApiError::new(ProblemCode::BodyTooLarge, detail));
            }
        };
        request.extensions_mut().insert(SentBody(bytes.clone()));
        Ok(bytes)
    }
}

fn wrong_type(types: &[&str]) -> ApiError {
    let detail = format!("Send the file as Content-Type: {}.", types.join(" or "));
    let error = ApiError::new(ProblemCode::UnsupportedMediaType, detail);
    match HeaderValue::from_str(&types.join(", ")) {
        Ok(accept) => error.with_header(ACCEPT, accept),
        Err(_no_text) => error,
    }
}

/// The character set that `Content-Type` names.
fn charset(request: &HttpRequest) -> Option<String> {
    let kind = request.mime_type().ok().flatten()?;
    kind.get_param("charset").map(|name| name.as_str().to_owned())
}
