//! An answer of the service, with the checks that tests make.

use serde_json::Value;

/// An answer, read to its end.
#[derive(Debug)]
pub struct Answer {
    /// The status.
    pub status: u16,
    /// The body as text.
    pub text: String,
    /// The body byte by byte.
    pub bytes: Vec<u8>,
    headers: reqwest::header::HeaderMap,
    request: String,
}

impl Answer {
    pub(crate) async fn read(request: String, response: reqwest::Response) -> Self {
        let status = response.status().as_u16();
        let headers = response.headers().clone();
        let bytes = response.bytes().await.expect("a whole body").to_vec();
        let text = String::from_utf8_lossy(&bytes).into_owned();
        Self { status, text, bytes, headers, request }
    }

    /// The body as JSON.
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.text)
            .unwrap_or_else(|error| panic!("{}: {error}: {}", self.request, self.text))
    }

    /// A header; empty when absent.
    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |value| value.to_str().expect("text"))
    }

    /// Whether a header is there.
    pub fn has_header(&self, name: &str) -> bool {
        self.headers.contains_key(name)
    }

    /// Fails unless the status is this one.
    #[track_caller]
    pub fn assert_status(self, status: u16) -> Self {
        assert_eq!(self.status, status, "{}: {}", self.request, self.text);
        self
    }

    /// Fails unless it is this problem, in the one form of problems.
    #[track_caller]
    pub fn assert_problem(self, status: u16, code: &str) -> Self {
        let answer = self.assert_status(status);
        let body = answer.json();
        assert_eq!(answer.header("content-type"), "application/problem+json", "{}", answer.request);
        assert_eq!(body["code"], code, "{}: {body}", answer.request);
        assert_eq!(body["status"], status, "{}: {body}", answer.request);
        assert_eq!(body["type"], format!("/problems/{code}"));
        assert_eq!(body["request_id"], answer.header("x-request-id"));
        for member in ["title", "detail"] {
            assert!(body[member].as_str().is_some_and(|text| !text.is_empty()), "{body}");
        }
        assert!(body["errors"].is_array(), "{body}");
        answer
    }

    /// Fails unless a member at this pointer was refused; gives its entry.
    #[track_caller]
    pub fn assert_member(&self, pointer: &str) -> Value {
        let body = self.json();
        let errors = body["errors"].as_array().expect("errors");
        let found = errors.iter().find(|entry| entry["pointer"] == pointer);
        found.unwrap_or_else(|| panic!("{}: no {pointer} in {body}", self.request)).clone()
    }

    /// The `id` of the body.
    #[track_caller]
    pub fn id(&self) -> String {
        self.json()["id"].as_str().unwrap_or_else(|| panic!("no id: {}", self.text)).to_owned()
    }
}
