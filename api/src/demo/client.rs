//! A small client of the service: somebody who signed in, and what the service answered. It refreshes
//! its session when the access token has expired, and signs in again when the session is over.

use std::sync::{Arc, Mutex, PoisonError};

use reqwest::Method;
use reqwest::header::{ETAG, HeaderMap, IF_MATCH};
use serde_json::{Value, json};

use super::error::{DemoError, Result};
use super::scenario::people::SignIn;
use crate::tls;

/// Somebody who calls the service.
#[derive(Debug, Clone)]
pub(super) struct Client {
    http: reqwest::Client,
    base: String,
    signed_in: Option<Arc<SignedIn>>,
}

/// Somebody's password and what his session gave him last.
#[derive(Debug)]
struct SignedIn {
    who: SignIn,
    tokens: Mutex<Tokens>,
}

/// The tokens of a session.
#[derive(Debug, Clone)]
struct Tokens {
    access: String,
    refresh: String,
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
        Self { http: tls::plain_client().build().unwrap_or_default(), base, signed_in: None }
    }

    /// Signs in.
    pub(super) async fn sign_in(&self, who: SignIn) -> Result<Self> {
        let tokens = Mutex::new(self.begin(who).await?);
        Ok(Self { signed_in: Some(Arc::new(SignedIn { who, tokens })), ..self.clone() })
    }

    async fn begin(&self, who: SignIn) -> Result<Tokens> {
        let SignIn { email, password } = who;
        let body = json!({"email": email, "password": password});
        let request = Request { method: Method::POST, path: "/v1/sessions", etag: None };
        let session = self.call(request, Some(&body), None).await?.expect(201)?;
        Tokens::of(&session)
    }

    /// The tokens that follow: of the same session, or of a new one.
    async fn next(&self, signed_in: &SignedIn, spent: Tokens) -> Result<Tokens> {
        let body = json!({"refresh_token": spent.refresh});
        let request = Request { method: Method::POST, path: "/v1/sessions/refresh", etag: None };
        let answer = self.call(request, Some(&body), None).await?;
        let tokens = match answer.status {
            401 => self.begin(signed_in.who).await?,
            _ => Tokens::of(&answer.expect(200)?)?,
        };
        signed_in.tokens.lock().unwrap_or_else(PoisonError::into_inner).clone_from(&tokens);
        Ok(tokens)
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

    /// Puts something in the place of the version that was read.
    pub(super) async fn put(&self, path: &str, etag: &str, body: &Value) -> Result<Reply> {
        self.send(Method::PUT, path, Some(body), Some(etag)).await
    }

    /// Puts something, whatever is there.
    pub(super) async fn give(&self, path: &str, body: &Value) -> Result<Reply> {
        self.send(Method::PUT, path, Some(body), None).await
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
        let request = Request { method, path, etag };
        let Some(signed_in) = &self.signed_in else {
            return self.call(request, body, None).await;
        };
        let tokens = signed_in.tokens.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let reply = self.call(request.clone(), body, Some(&tokens.access)).await?;
        if reply.status != 401 {
            return Ok(reply);
        }
        let tokens = self.next(signed_in, tokens).await?;
        self.call(request, body, Some(&tokens.access)).await
    }

    async fn call(
        &self,
        request: Request<'_>,
        body: Option<&Value>,
        token: Option<&str>,
    ) -> Result<Reply> {
        let Request { method, path, etag } = request;
        let request = format!("{method} {path}");
        let mut call = self.http.request(method, format!("{}{path}", self.base));
        if let Some(token) = token {
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

/// What is asked for.
#[derive(Debug, Clone)]
struct Request<'a> {
    method: Method,
    path: &'a str,
    etag: Option<&'a str>,
}

impl Tokens {
    fn of(session: &Body) -> Result<Self> {
        let text = |pointer| session.text(pointer).map(str::to_owned);
        Ok(Self { access: text("/access_token")?, refresh: text("/refresh_token")? })
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
