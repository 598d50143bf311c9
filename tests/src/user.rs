//! Someone who talks to the service.

use reqwest::{Body, Client, Method};
use serde_json::Value;

use crate::Answer;

/// Someone with an access token, or nobody without one.
#[derive(Debug, Clone)]
pub struct User {
    client: Client,
    base: String,
    /// The access token.
    pub token: Option<String>,
    /// Id of the account.
    pub account_id: String,
}

impl User {
    /// Nobody: no token.
    pub(crate) fn nobody(base: &str) -> Self {
        let client = api::tls::plain_client()
            .redirect(reqwest::redirect::Policy::none())
            .build()
            .expect("a client");
        Self { client, base: base.to_owned(), token: None, account_id: String::new() }
    }

    /// The same client with another token.
    #[must_use]
    pub fn with_token(&self, token: &str) -> Self {
        Self { token: Some(token.to_owned()), ..self.clone() }
    }

    /// The same account at another process of the service.
    #[must_use]
    pub fn at(&self, base: &str) -> Self {
        Self { base: base.to_owned(), ..self.clone() }
    }

    /// The same client as an account that has this token.
    pub(crate) fn signed_in(&self, token: &str, account_id: &str) -> Self {
        Self { account_id: account_id.to_owned(), ..self.with_token(token) }
    }

    /// A request of any kind, with headers.
    pub async fn send(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: Option<&Value>,
    ) -> Answer {
        let text = body.map(Value::to_string);
        let mut all = headers.to_vec();
        if body.is_some()
            && !headers.iter().any(|(name, _)| name.eq_ignore_ascii_case("content-type"))
        {
            all.push(("content-type", "application/json"));
        }
        self.send_text(method, path, &all, text).await
    }

    /// A request with a body that may be no JSON at all.
    pub async fn send_text(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: Option<String>,
    ) -> Answer {
        self.send_body(method, path, headers, body.map(Body::from)).await
    }

    /// A request with a body byte by byte.
    pub async fn send_bytes(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: Vec<u8>,
    ) -> Answer {
        self.send_body(method, path, headers, Some(Body::from(body))).await
    }

    async fn send_body(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: Option<Body>,
    ) -> Answer {
        let what = Method::from_bytes(method.as_bytes()).expect("a method");
        let mut request = self.client.request(what, format!("{}{path}", self.base));
        if let Some(token) = &self.token {
            request = request.bearer_auth(token);
        }
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        if let Some(body) = body {
            request = request.body(body);
        }
        let response = request.send().await.expect("the service answers");
        Answer::read(format!("{method} {path}"), response).await
    }

    /// `GET`
    pub async fn get(&self, path: &str) -> Answer {
        self.send("GET", path, &[], None).await
    }

    /// `POST` with a JSON body.
    pub async fn post(&self, path: &str, body: &Value) -> Answer {
        self.send("POST", path, &[], Some(body)).await
    }

    /// `PATCH` with `If-Match`.
    pub async fn patch(&self, path: &str, etag: &str, body: &Value) -> Answer {
        self.send("PATCH", path, &[("if-match", etag)], Some(body)).await
    }

    /// `PUT` with `If-Match`.
    pub async fn put(&self, path: &str, etag: &str, body: &Value) -> Answer {
        self.send("PUT", path, &[("if-match", etag)], Some(body)).await
    }

    /// `DELETE`
    pub async fn delete(&self, path: &str) -> Answer {
        self.send("DELETE", path, &[], None).await
    }

    /// Makes an object and gives its id; fails the test unless the answer is 201.
    pub async fn create(&self, path: &str, body: &Value) -> String {
        self.post(path, body).await.assert_status(201).id()
    }
}
