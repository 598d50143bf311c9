//! Asking an issuer for its keys: discovery (OpenID Connect Discovery, section 4), then the key set.

use std::time::Duration;

use chrono::TimeDelta;
use reqwest::header::{ACCEPT, CACHE_CONTROL};
use reqwest::redirect::Policy;
use reqwest::{Client, Response, Url};
use serde::Deserialize;

use super::configured::{IssuersError, is_here, is_safe};
use super::key_set::{self, OutsideKey};

/// How long a connection may take, and a whole answer.
const CONNECT: Duration = Duration::from_secs(3);
const WHOLE: Duration = Duration::from_secs(5);
/// Most bytes of an answer.
const MOST: usize = 262_144;
/// How long keys are used without asking again, when the issuer does not say.
const USUAL: TimeDelta = TimeDelta::minutes(15);
/// The least and the most that an issuer can say.
const SHORTEST: TimeDelta = TimeDelta::minutes(1);
const LONGEST: TimeDelta = TimeDelta::hours(24);

/// Why an issuer's keys were not got.
#[derive(Debug, thiserror::Error)]
pub(super) enum FetchError {
    #[error("the issuer does not answer")]
    Http(#[from] reqwest::Error),
    #[error("the issuer answers with status {0}")]
    Status(u16),
    #[error("the answer of the issuer is too long")]
    TooLong,
    #[error("the answer of the issuer has not the right form")]
    Form(#[from] serde_json::Error),
    #[error("the address speaks for another issuer")]
    OtherIssuer,
    #[error("the address of the keys is not safe")]
    KeysAddress,
}

/// The keys, and how long they need no asking.
#[derive(Debug)]
pub(super) struct Fetched {
    pub(super) keys: Vec<OutsideKey>,
    pub(super) fresh_for: TimeDelta,
}

#[derive(Deserialize)]
struct Discovery {
    issuer: String,
    jwks_uri: String,
}

/// The client that asks. It follows no redirect: an issuer says itself where its keys are.
pub(super) fn client() -> Result<Client, IssuersError> {
    let client = Client::builder().redirect(Policy::none()).connect_timeout(CONNECT).timeout(WHOLE);
    Ok(client.build()?)
}

/// Gets the keys of an issuer.
pub(super) async fn keys(client: &Client, issuer: &str) -> Result<Fetched, FetchError> {
    let address = format!("{}/.well-known/openid-configuration", issuer.trim_end_matches('/'));
    let answer = get(client, &address).await?;
    let discovery: Discovery = serde_json::from_slice(&body(answer).await?)?;
    if discovery.issuer != issuer {
        return Err(FetchError::OtherIssuer);
    }
    let address = Url::parse(&discovery.jwks_uri).map_err(|_error| FetchError::KeysAddress)?;
    if !may_lead_to(issuer, &address) {
        return Err(FetchError::KeysAddress);
    }
    let answer = get(client, address.as_str()).await?;
    let fresh_for = fresh_for(answer.headers().get(CACHE_CONTROL).and_then(|it| it.to_str().ok()));
    Ok(Fetched { keys: key_set::read(&body(answer).await?)?, fresh_for })
}

/// An issuer elsewhere must not lead us to this computer.
fn may_lead_to(issuer: &str, keys: &Url) -> bool {
    let from_here = Url::parse(issuer).is_ok_and(|issuer| is_here(&issuer));
    is_safe(keys) && (from_here || !is_here(keys))
}

async fn get(client: &Client, address: &str) -> Result<Response, FetchError> {
    let answer = client.get(address).header(ACCEPT, "application/json").send().await?;
    let status = answer.status();
    if status == reqwest::StatusCode::OK {
        Ok(answer)
    } else {
        Err(FetchError::Status(status.as_u16()))
    }
}

/// Reads the body, and stops as soon as it is too long.
async fn body(mut answer: Response) -> Result<Vec<u8>, FetchError> {
    let mut whole = Vec::new();
    while let Some(part) = answer.chunk().await? {
        if whole.len() + part.len() > MOST {
            return Err(FetchError::TooLong);
        }
        whole.extend_from_slice(&part);
    }
    Ok(whole)
}

/// `max-age`, within bounds.
fn fresh_for(cache_control: Option<&str>) -> TimeDelta {
    let said = cache_control.and_then(|header| {
        header.split(',').find_map(|part| part.trim().strip_prefix("max-age=")?.parse().ok())
    });
    said.and_then(TimeDelta::try_seconds).unwrap_or(USUAL).clamp(SHORTEST, LONGEST)
}

#[cfg(test)]
mod tests {
    use super::{fresh_for, may_lead_to};
    use chrono::TimeDelta;

    #[test]
    fn the_issuer_says_how_long_keys_are_good_within_bounds() {
        assert_eq!(fresh_for(None), TimeDelta::minutes(15));
        assert_eq!(fresh_for(Some("public, max-age=3600")), TimeDelta::hours(1));
        assert_eq!(fresh_for(Some("max-age=0")), TimeDelta::minutes(1));
        assert_eq!(fresh_for(Some("max-age=999999999")), TimeDelta::hours(24));
        assert_eq!(fresh_for(Some("max-age=9223372036854775807")), TimeDelta::minutes(15));
        assert_eq!(fresh_for(Some("no-store, max-age=x")), TimeDelta::minutes(15));
    }

    #[test]
    fn keys_are_behind_https_and_nobody_elsewhere_leads_us_to_ourselves() {
        let may = |issuer: &str, keys: &str| may_lead_to(issuer, &keys.parse().expect("a URL"));
        assert!(may("https://a.example", "https://keys.example/set"));
        assert!(may("http://127.0.0.1:1", "http://127.0.0.1:2/set"));
        assert!(!may("https://a.example", "http://keys.example/set"));
        assert!(!may("https://a.example", "http://127.0.0.1/set"));
        assert!(!may("https://a.example", "https://localhost/set"));
        assert!(!may("https://a.example", "file:///etc/passwd"));
    }
}
