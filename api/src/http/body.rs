//! The JSON body of a request, with every refusal named by a JSON Pointer.

use actix_web::dev::Payload;
use actix_web::http::header::{ACCEPT, CONTENT_TYPE, HeaderValue};
use actix_web::web::Bytes;
use actix_web::{FromRequest, HttpRequest};
use futures_util::future::LocalBoxFuture;
use serde::de::DeserializeOwned;
use serde_json::error::Category;

use super::error::ApiError;
use super::member::BadMember;
use super::problem::ProblemCode;

/// A JSON body of type `T`. Types refuse unknown members with `#[serde(deny_unknown_fields)]`.
#[derive(Debug)]
pub struct Body<T>(pub T);

impl<T> Body<T> {
    /// The value.
    pub fn into_inner(self) -> T {
        self.0
    }
}

impl<T: DeserializeOwned + 'static> FromRequest for Body<T> {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let is_json = request.headers().get(CONTENT_TYPE).is_some_and(is_json);
        let bytes = Bytes::from_request(request, payload);
        Box::pin(async move {
            if !is_json {
                return Err(ApiError::new(
                    ProblemCode::UnsupportedMediaType,
                    "Send the body as Content-Type: application/json.",
                )
                .with_header(ACCEPT, HeaderValue::from_static("application/json")));
            }
            let bytes = bytes.await.map_err(|error| unreadable(&error))?;
            read(&bytes).map(Self)
        })
    }
}

fn is_json(value: &HeaderValue) -> bool {
    let Ok(text) = value.to_str() else {
        return false;
    };
    let kind = text.split(';').next().unwrap_or(text).trim();
    kind.eq_ignore_ascii_case("application/json")
        || kind.eq_ignore_ascii_case("application/merge-patch+json")
}

/// The body could not be taken from the wire.
fn unreadable(error: &actix_web::Error) -> ApiError {
    let status = error.as_response_error().status_code();
    if status == actix_web::http::StatusCode::PAYLOAD_TOO_LARGE {
        ApiError::new(
            ProblemCode::BodyTooLarge,
            ProblemCode::BodyTooLarge.meaning(),
        )
    } else {
        ApiError::new(ProblemCode::MalformedJson, "The body broke off.")
            .caused_by(error.to_string())
    }
}

/// Reads JSON; what is no JSON at all is told from JSON that says something else than asked.
pub fn read<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, ApiError> {
    let mut json = serde_json::Deserializer::from_slice(bytes);
    let value = serde_path_to_error::deserialize(&mut json).map_err(|error| {
        let path = pointer(error.path());
        refuse(&path, error.inner())
    })?;
    json.end().map_err(|error| refuse("", &error))?;
    Ok(value)
}

fn refuse(path: &str, error: &serde_json::Error) -> ApiError {
    match error.classify() {
        Category::Data => BadMember::from_serde(path, &error.to_string()).into(),
        Category::Syntax | Category::Eof | Category::Io => ApiError::new(
            ProblemCode::MalformedJson,
            format!("The body can't be read: {error}."),
        ),
    }
}

/// The JSON Pointer (RFC 6901) of a path of serde.
fn pointer(path: &serde_path_to_error::Path) -> String {
    use serde_path_to_error::Segment;
    let mut text = String::new();
    for segment in path {
        match segment {
            Segment::Seq { index } => text.push_str(&format!("/{index}")),
            Segment::Map { key } => {
                text.push('/');
                text.push_str(&key.replace('~', "~0").replace('/', "~1"));
            }
            Segment::Enum { .. } | Segment::Unknown => {}
        }
    }
    text
}

impl BadMember {
    /// Turns serde's words into ours: a missing or unknown member is named in the pointer.
    pub fn from_serde(path: &str, message: &str) -> Self {
        let message = message.split(" at line ").next().unwrap_or(message);
        if let Some(name) = quoted(message, "missing field `") {
            return Self::new(format!("{path}/{name}"), "This member is needed.");
        }
        if let Some(name) = quoted(message, "unknown field `") {
            let end = format!("/{name}");
            let at = if path.ends_with(&end) {
                path.to_owned()
            } else {
                format!("{path}{end}")
            };
            let known = message
                .split_once("expected ")
                .map(|(_, list)| list.replace('`', ""));
            let member = Self::new(at, "There is no such member.");
            return match known {
                Some(list) => member.allowed(list),
                None => member,
            };
        }
        if let Some(name) = quoted(message, "duplicate field `") {
            return Self::new(format!("{path}/{name}"), "This member is given twice.");
        }
        match message.split_once(", expected ") {
            Some((given, wanted)) => Self::new(path, format!("{message}."))
                .given(
                    given
                        .trim_start_matches("invalid type: ")
                        .trim_start_matches("invalid value: "),
                )
                .allowed(wanted.replace('`', "")),
            None => Self::new(path, format!("{message}.")),
        }
    }
}

fn quoted<'a>(message: &'a str, before: &str) -> Option<&'a str> {
    message.strip_prefix(before)?.split('`').next()
}

#[cfg(test)]
mod tests {
    use super::read;
    use crate::http::ProblemCode;
    use serde::Deserialize;

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Outer {
        inner: Inner,
        list: Vec<u8>,
    }
    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Inner {
        #[expect(dead_code, reason = "only its parsing is tested")]
        depth: f64,
    }

    fn pointer_of(json: &str) -> String {
        let error = read::<Outer>(json.as_bytes()).expect_err("refused");
        assert_eq!(error.code(), ProblemCode::InvalidRequest, "{json}: {error}");
        error.members()[0].pointer.clone()
    }

    #[test]
    fn each_refusal_names_its_member() {
        let whole = read::<Outer>(br#"{"inner":{"depth":1.5},"list":[1]}"#).expect("valid");
        assert_eq!((whole.list.len(), whole.inner.depth), (1, 1.5));
        assert_eq!(
            pointer_of(r#"{"inner":{"depth":"x"},"list":[]}"#),
            "/inner/depth"
        );
        assert_eq!(pointer_of(r#"{"inner":{},"list":[]}"#), "/inner/depth");
        assert_eq!(
            pointer_of(r#"{"inner":{"depth":1,"width":2},"list":[]}"#),
            "/inner/width"
        );
        assert_eq!(
            pointer_of(r#"{"inner":{"depth":1},"list":[1,300]}"#),
            "/list/1"
        );
        assert_eq!(
            pointer_of(r#"{"inner":{"depth":1},"list":[],"a/b~c":1}"#),
            "/a~1b~0c"
        );
        assert_eq!(pointer_of("[]"), "");
    }

    #[test]
    fn what_is_no_json_is_malformed() {
        for text in [
            "",
            "{",
            "{\"inner\":",
            "{} x",
            "\u{fffd}",
            "{\"inner\":{\"depth\":1e999}}",
        ] {
            let error = read::<Outer>(text.as_bytes()).expect_err("refused");
            assert!(
                matches!(
                    error.code(),
                    ProblemCode::MalformedJson | ProblemCode::InvalidRequest
                ),
                "{text}: {error}"
            );
        }
        assert_eq!(
            read::<Outer>(b"{").expect_err("cut").code(),
            ProblemCode::MalformedJson
        );
    }
}
