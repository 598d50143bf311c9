//! A small client of the service: somebody who signed in, and what the service answered.

use reqwest::Method;
use reqwest::header::{ETAG, HeaderMap, IF_MATCH};
use serde_json::{Value, json};

use super::error::{DemoError, Result};
use super::scenario::people::SignIn;

/// Somebody who calls the service.
#[derive(Debug, Clone)]
pub(super) struct Client {
    http: reqwest::Client,
    base: String,
    token: Option<String>,
}

/// What the service answered.
#[derive(Debug, Clone)]
pub(super) struct Reply {
    request: String,
    /// The status.
    pub status: u16,
    /// The `ETag`, if there is one.
    pub etag: Option<String>,
    /// The body as text.
    pub text: String,
}

impl Client {
    /// Somebody whom the service does not know yet.
    pub(super) fn stranger(address: std::net::SocketAddr) -> Self {
        let base = format!("http://{address}");
        Self { http: reqwest::Client::new(), base, token: None }
    }

    /// Signs in.
    pub(super) async fn sign_in(&self, who: SignIn) -> Result<Self> {
        let SignIn { email, password } = who;
        let body = json!({"email": email, "password": password});
        let session = self.post("/v1/sessions", &body).await?.expect(201)?;
        let token = session.text("/access_token")?;
        Ok(Self { token: Some(token.to_owned()), ..self.clone() })
    }

    /// Reads something.
    pub(super) async fn get(&self, path: &str) -> Result<Reply> {
        self.send(Method::GET, path, None, None).await
    }

    /// Sends something new.
    pub(super) async fn post(&self, path: &str, body: &Value) -> Result<Reply> {
        self.send(Method::POST, path, Some(body), None).await
    }

    /// Takes a step with an object of which this version was read.
    pub(super) async fn step(&self, path: &str, etag: &str, body: Option<&Value>) -> Result<Reply> {
        self.send(Method::POST, path, body, Some(etag)).await
    }

    /// Changes an object of which this version was read.
    pub(super) async fn patch(&self, path: &str, etag: &str, body: &Value) -> Result<Reply> {
        self.send(Method::PATCH, path, Some(body), Some(etag)).await
    }

    async fn send(
        &self,
        method: Method,
        path: &str,
        body: Option<&Value>,
        etag: Option<&str>,
    ) -> Result<Reply> {
        let request = format!("{method} {path}");
        let mut call = self.http.request(method, format!("{}{path}", self.base));
        if let Some(token) = &self.token {
            call = call.bearer_auth(token);
        }
        if let Some(etag) = etag {
            call = call.header(IF_MATCH, etag);
        }
        if let Some(body) = body {
            call = call.json(body);
        }
        let answer = call.send().await?;
        let status = answer.status().as_u16();
        let etag = tag(answer.headers());
        Ok(Reply { request, status, etag, text: answer.text().await? })
    }
}

fn tag(headers: &HeaderMap) -> Option<String> {
    headers.get(ETAG)?.to_str().ok().map(str::to_owned)
}

impl Reply {
    /// The body, if the status is the one that is needed.
    pub(super) fn expect(self, status: u16) -> Result<Body> {
        if self.status != status {
            let detail = self.text.chars().take(600).collect();
            return Err(DemoError::Refused { request: self.request, status: self.status, detail });
        }
        Ok(self.body())
    }

    /// The body as JSON; `null` where it is none.
    pub(super) fn body(&self) -> Body {
        Body {
            json: serde_json::from_str(&self.text).unwrap_or(Value::Null),
            etag: self.etag.clone(),
        }
    }
}

/// A JSON body, read by JSON Pointers.
#[derive(Debug, Clone)]
pub(super) struct Body {
    /// The JSON.
    pub json: Value,
    /// The `ETag` that came with it.
    pub etag: Option<String>,
}

impl Body {
    /// Part of a body.
    pub(super) fn part(json: &Value) -> Self {
        Self { json: json.clone(), etag: None }
    }

    /// The `ETag`, which must be there.
    pub(super) fn tag(&self) -> Result<&str> {
        self.etag.as_deref().ok_or_else(|| missing("the header ETag"))
    }

    /// A text that must be there.
    pub(super) fn text(&self, pointer: &str) -> Result<&str> {
        self.json.pointer(pointer).and_then(Value::as_str).ok_or_else(|| missing(pointer))
    }

    /// A text, or nothing.
    pub(super) fn word(&self, pointer: &str) -> &str {
        self.json.pointer(pointer).and_then(Value::as_str).unwrap_or_default()
    }

    /// A number that must be there.
    pub(super) fn number(&self, pointer: &str) -> Result<f64> {
        self.json.pointer(pointer).and_then(Value::as_f64).ok_or_else(|| missing(pointer))
    }

    /// A list; empty where there is none.
    pub(super) fn list(&self, pointer: &str) -> Vec<Self> {
        let items = self.json.pointer(pointer).and_then(Value::as_array);
        items.map(|items| items.iter().map(Self::part).collect()).unwrap_or_default()
    }

    /// A measured number in the SI base unit of its kind.
    pub(super) fn si(&self, pointer: &str) -> Result<f64> {
        let value = self.number(&format!("{pointer}/value"))?;
        let code = self.text(&format!("{pointer}/unit"))?;
        let unit = domain::quantity::unit(code).ok_or_else(|| missing(pointer))?;
        Ok(unit.to_si(value))
    }

    /// A measured number as people write it: `287 lbf`.
    pub(super) fn shown(&self, pointer: &str) -> Result<String> {
        let value = self.number(&format!("{pointer}/value"))?;
        let code = self.text(&format!("{pointer}/unit"))?;
        let label = domain::quantity::unit(code).map_or(code, |unit| unit.label);
        Ok(if label == "%" { format!("{value} %") } else { format!("{value} {label}") })
    }
}

fn missing(pointer: &str) -> DemoError {
    DemoError::Missing { pointer: pointer.to_owned() }
}
