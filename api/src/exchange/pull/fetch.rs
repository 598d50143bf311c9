//! One page: asked for, waited for, read.

use std::time::Duration;

use actix_web::web::Bytes;
use chrono::{DateTime, Utc};
use reqwest::header::{
    ACCEPT, AUTHORIZATION, ETAG, HeaderMap, HeaderValue, IF_NONE_MATCH, LINK, RETRY_AFTER,
};
use reqwest::{StatusCode, Url};
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::bounds::{Bounds, PAGE_VALUES, WAITS};
use super::profile::SignIn;
use super::stop::{Stop, StopCode};
use super::token::{self, Token};
use crate::clock::Clock;
use crate::outgoing::{Outgoing, OutgoingAnswer, OutgoingRequest};

/// A wait, where a records system asks for one without saying how long.
const WAIT_UNSAID: Duration = Duration::from_secs(5);

/// Fetches pages from one records system.
#[derive(Debug)]
pub struct Fetcher<'a> {
    outgoing: &'a Outgoing,
    clock: &'a dyn Clock,
    sign_in: &'a SignIn,
    bounds: Bounds,
    token: Option<Token>,
    bytes: usize,
    pages: u32,
}

/// What came.
#[derive(Debug)]
pub enum Fetched {
    /// A page.
    Page(Box<Page>),
    /// The page is what it was.
    NotModified,
}

/// A page.
#[derive(Debug)]
pub struct Page {
    /// Where it came from.
    pub url: Url,
    /// What it says.
    pub body: Value,
    /// SHA-256 over it, as sent.
    pub hash: [u8; 32],
    /// Its version.
    pub etag: Option<String>,
    /// Its headers `Link`.
    pub links: Vec<String>,
}

impl<'a> Fetcher<'a> {
    /// Of the system of a profile.
    pub fn new(
        outgoing: &'a Outgoing,
        clock: &'a dyn Clock,
        sign_in: &'a SignIn,
        bounds: Bounds,
    ) -> Self {
        Self { outgoing, clock, sign_in, bounds, token: None, bytes: 0, pages: 0 }
    }

    /// How many pages came.
    pub fn pages(&self) -> u32 {
        self.pages
    }

    /// The token that is used, for what must not be shown.
    pub fn secrets(&self) -> Vec<String> {
        let header = match self.sign_in {
            SignIn::Nobody | SignIn::ClientCredentials(_) => None,
            SignIn::Header { value, .. } => Some(value),
        };
        let token = self.token.as_ref().map(|token| &token.header);
        let headers = header.into_iter().chain(token);
        headers
            .filter_map(|header| header.reveal().to_str().ok())
            .map(|text| text.rsplit(' ').next().unwrap_or(text).to_owned())
            .collect()
    }

    /// Asks for a page; with the version that is known, only if it is another.
    ///
    /// # Errors
    /// When there is no such page to be had.
    pub async fn get(&mut self, url: &Url, known: Option<&str>) -> Result<Fetched, Stop> {
        if self.pages >= self.bounds.pages {
            let detail = format!("There are more than {} pages.", self.bounds.pages);
            return Err(Stop::new(StopCode::TooLarge, detail));
        }
        self.pages = self.pages.saturating_add(1);
        let answer = self.answer(url, known).await?;
        if answer.url.origin() != url.origin() {
            let detail = "The address redirects to another host. Use the address of that host.";
            return Err(Stop::new(StopCode::OtherOrigin, detail));
        }
        match answer.status {
            StatusCode::OK => read(answer).map(|page| Fetched::Page(Box::new(page))),
            StatusCode::NOT_MODIFIED if known.is_some() => Ok(Fetched::NotModified),
            status => Err(refused(status)),
        }
    }

    /// Goes on asking while it is told to wait, and signs in again once.
    async fn answer(&mut self, url: &Url, known: Option<&str>) -> Result<OutgoingAnswer, Stop> {
        let mut waits = 0_u8;
        let mut signed_in_again = false;
        loop {
            let request = self.request(url, known).await?;
            let answer = self.outgoing.send(request).await?;
            // Also of those that ask us to wait: they may be long.
            self.bytes = self.bytes.saturating_add(answer.body.len());
            match answer.status {
                StatusCode::UNAUTHORIZED if self.token.is_some() && !signed_in_again => {
                    signed_in_again = true;
                    self.token = None;
                }
                StatusCode::TOO_MANY_REQUESTS | StatusCode::SERVICE_UNAVAILABLE => {
                    waits = waits.saturating_add(1);
                    let wait = asked_to_wait(&answer.headers, self.clock.now());
                    if waits > WAITS || wait > self.bounds.wait {
                        return Err(busy(answer.status, wait));
                    }
                    tokio::time::sleep(wait).await;
                }
                _ => return Ok(answer),
            }
        }
    }

    async fn request(&mut self, url: &Url, known: Option<&str>) -> Result<OutgoingRequest, Stop> {
        let left = self.bounds.bytes.saturating_sub(self.bytes);
        let mut headers = HeaderMap::new();
        let accept =
            HeaderValue::from_static("application/json, application/geo+json;q=0.9, */*;q=0.1");
        headers.insert(ACCEPT, accept);
        match self.sign_in {
            SignIn::Nobody => {}
            SignIn::Header { name, value } => {
                headers.insert(name.clone(), value.reveal().clone());
            }
            SignIn::ClientCredentials(client) => {
                let now = self.clock.now();
                let token = match self.token.take().filter(|token| now < token.good_until) {
                    Some(token) => token,
                    None => token::get(self.outgoing, client, &self.bounds, now).await?,
                };
                headers.insert(AUTHORIZATION, token.header.reveal().clone());
                self.token = Some(token);
            }
        }
        if let Some(known) = known.and_then(|known| HeaderValue::from_str(known).ok()) {
            headers.insert(IF_NONE_MATCH, known);
        }
        Ok(OutgoingRequest {
            headers,
            most_bytes: self.bounds.page_bytes.min(left),
            timeout: self.bounds.page_time,
            ..OutgoingRequest::get(url.clone())
        })
    }
}

fn read(answer: OutgoingAnswer) -> Result<Page, Stop> {
    let OutgoingAnswer { headers, body, url, .. } = answer;
    let text = |value: &HeaderValue| value.to_str().ok().map(str::to_owned);
    Ok(Page {
        url,
        hash: Sha256::digest(&body).into(),
        body: json(&body)?,
        etag: headers.get(ETAG).and_then(text),
        links: headers.get_all(LINK).iter().filter_map(text).collect(),
    })
}

/// Reads JSON, of which there may be a lot, but not more than there is room for.
fn json(body: &Bytes) -> Result<Value, Stop> {
    let no = |detail: String| Stop::new(StopCode::NotJson, detail);
    let text = std::str::from_utf8(body).map_err(|error| {
        no(format!("The answer is not UTF-8, from byte {} on.", error.valid_up_to()))
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // Each value is the first, or stands behind a comma or at the beginning of a list or an object.
    let values = text.bytes().filter(|byte| matches!(byte, b',' | b'[' | b'{')).count();
    if values > PAGE_VALUES {
        return Err(Stop::new(StopCode::TooLarge, "The page holds too many values."));
    }
    serde_json::from_str(text).map_err(|error| {
        let begins = text.trim_start().starts_with('<');
        let hint = if begins { " It looks like a page for a browser." } else { "" };
        no(format!("The answer is no JSON that can be read: {error}.{hint}"))
    })
}

fn refused(status: StatusCode) -> Stop {
    let code = match status {
        StatusCode::UNAUTHORIZED | StatusCode::FORBIDDEN => StopCode::SignInRefused,
        _ => StopCode::Status,
    };
    Stop::new(code, format!("The records system answers {status}."))
}

fn busy(status: StatusCode, wait: Duration) -> Stop {
    let detail = format!(
        "The records system answers {status} and asks to wait {} s. Try again later.",
        wait.as_secs()
    );
    Stop::new(StopCode::Busy, detail)
}

/// How long the header `Retry-After` asks to wait: seconds, or a time.
fn asked_to_wait(headers: &HeaderMap, now: DateTime<Utc>) -> Duration {
    let said = headers.get(RETRY_AFTER).and_then(|value| value.to_str().ok());
    let Some(said) = said.map(str::trim) else { return WAIT_UNSAID };
    if let Ok(seconds) = said.parse::<u64>() {
        return Duration::from_secs(seconds);
    }
    let until = DateTime::parse_from_rfc2822(said).ok();
    until.map_or(WAIT_UNSAID, |until| (until.to_utc() - now).to_std().unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use actix_web::web::Bytes;
    use reqwest::header::{HeaderMap, HeaderValue, RETRY_AFTER};

    use super::{asked_to_wait, json};
    use crate::exchange::pull::stop::StopCode;

    #[test]
    fn a_wait_is_a_number_or_a_time() {
        let now = "2027-04-20T12:00:00Z".parse().expect("a time");
        for (said, seconds) in [
            (Some("0"), 0),
            (Some(" 7 "), 7),
            (Some("Tue, 20 Apr 2027 12:00:09 GMT"), 9),
            (Some("Tue, 20 Apr 2027 11:00:00 GMT"), 0),
            (Some("soon"), 5),
            (None, 5),
        ] {
            let mut headers = HeaderMap::new();
            if let Some(said) = said {
                headers.insert(RETRY_AFTER, HeaderValue::from_static(said));
            }
            assert_eq!(asked_to_wait(&headers, now), Duration::from_secs(seconds), "{said:?}");
        }
    }

    #[test]
    fn what_is_no_json_is_said_to_be_none() {
        let read = |bytes: &'static [u8]| json(&Bytes::from_static(bytes));
        assert!(read(b"\xef\xbb\xbf{\"a\": [1]}").is_ok());
        for bytes in [&b"<html></html>"[..], b"", b"{\"a\": 1", b"{\"a\": \"\xe9\"}", b"[1] 2"] {
            assert_eq!(read(bytes).expect_err("no JSON").code, StopCode::NotJson);
        }
        let many = Bytes::from(format!("[{}0]", "0,".repeat(super::PAGE_VALUES)));
        assert_eq!(json(&many).expect_err("too much").code, StopCode::TooLarge);
        let deep = Bytes::from("[".repeat(100_000));
        assert_eq!(json(&deep).expect_err("too deep").code, StopCode::NotJson);
    }
}
