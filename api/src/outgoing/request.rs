//! What is asked.

use std::fmt;
use std::time::Duration;

use actix_web::web::Bytes;
use reqwest::header::HeaderMap;
use reqwest::{Method, Url};

use crate::http::trace::TraceContext;

/// A request to an address that a user named.
#[derive(Clone)]
pub struct OutgoingRequest {
    /// The method.
    pub method: Method,
    /// Where to; `http` or `https`, without user and password.
    pub url: Url,
    /// The caller's headers. When a redirect leads to another origin, only harmless ones go there.
    pub headers: HeaderMap,
    /// The body.
    pub body: Option<Bytes>,
    /// How many redirects are followed. With none, an answer that redirects is given as it is.
    pub redirects: u8,
    /// Most bytes of the answer's body, also after it was decompressed.
    pub most_bytes: usize,
    /// Whether a longer body is cut there and is no error; it is not decompressed then.
    pub only_beginning: bool,
    /// Most time for all of it, redirects and body too.
    pub timeout: Duration,
    /// The trace that it belongs to.
    pub trace: Option<TraceContext>,
}

impl OutgoingRequest {
    /// Asks for what is at an address: up to three redirects, a mebibyte, twenty seconds.
    pub fn get(url: Url) -> Self {
        Self {
            method: Method::GET,
            url,
            headers: HeaderMap::new(),
            body: None,
            redirects: 3,
            most_bytes: 1_048_576,
            only_beginning: false,
            timeout: Duration::from_secs(20),
            trace: None,
        }
    }

    /// Sends a body to an address: no redirects, a mebibyte, twenty seconds.
    pub fn post(url: Url, body: impl Into<Bytes>) -> Self {
        Self { method: Method::POST, body: Some(body.into()), redirects: 0, ..Self::get(url) }
    }
}

/// Without headers, query and body: secrets stand in them.
impl fmt::Debug for OutgoingRequest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { method, url, redirects, most_bytes, timeout, .. } = self;
        let place =
            format_args!("{}{}", url.origin().ascii_serialization(), url.path()).to_string();
        f.debug_struct("OutgoingRequest")
            .field("method", method)
            .field("url", &place)
            .field("redirects", redirects)
            .field("most_bytes", most_bytes)
            .field("timeout", timeout)
            .finish_non_exhaustive()
    }
}
