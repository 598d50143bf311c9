//! An access token by id and secret (RFC 6749, section 4.4).

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use chrono::{DateTime, TimeDelta, Utc};
use reqwest::StatusCode;
use reqwest::header::{ACCEPT, AUTHORIZATION, CONTENT_TYPE, HeaderMap, HeaderValue};
use serde::Deserialize;
use serde_json::Value;

use super::bounds::Bounds;
use super::profile::{ClientCredentials, Sensitive};
use super::stop::{Stop, StopCode};
use crate::outgoing::{Outgoing, OutgoingRequest};

/// A token is not used in its last seconds.
const LAST_SECONDS: i64 = 20;
/// What a token that does not say is good for.
const UNSAID_SECONDS: i64 = 3600;
/// Most bytes of an answer.
const ANSWER_BYTES: usize = 65_536;

/// A token, and until when it is used.
#[derive(Debug)]
pub struct Token {
    /// The header that carries it.
    pub header: Sensitive,
    /// When a new one is got.
    pub good_until: DateTime<Utc>,
}

#[derive(Deserialize)]
struct Granted {
    access_token: String,
    token_type: String,
    expires_in: Option<Value>,
}

#[derive(Deserialize)]
struct Refused {
    error: String,
}

/// Gets a token.
///
/// # Errors
/// When none is given.
pub async fn get(
    outgoing: &Outgoing,
    client: &ClientCredentials,
    bounds: &Bounds,
    now: DateTime<Utc>,
) -> Result<Token, Stop> {
    let request = OutgoingRequest {
        headers: headers(client)?,
        most_bytes: ANSWER_BYTES,
        timeout: bounds.page_time,
        ..OutgoingRequest::post(client.token_url.clone(), body(client))
    };
    let answer = outgoing.send(request).await?;
    if answer.status != StatusCode::OK {
        return Err(refused(answer.status, &answer.body));
    }
    let granted: Granted = serde_json::from_slice(&answer.body)
        .map_err(|_opaque| no("The answer to the request for a token holds no token."))?;
    if !granted.token_type.eq_ignore_ascii_case("bearer") {
        return Err(no("The token is of a type that is not known here; `Bearer` is."));
    }
    let header = Sensitive::of(&format!("Bearer {}", granted.access_token)).map_err(no)?;
    Ok(Token { header, good_until: now + lasting(granted.expires_in.as_ref()) })
}

fn no(detail: &str) -> Stop {
    Stop::new(StopCode::SignInRefused, detail)
}

/// How long a token is used. Seconds are a number; some say it as a text.
fn lasting(said: Option<&Value>) -> TimeDelta {
    let seconds = said.and_then(|said| match said {
        Value::String(text) => text.trim().parse().ok().filter(|seconds: &f64| !seconds.is_nan()),
        other => other.as_f64(),
    });
    let said = seconds.map_or(TimeDelta::seconds(UNSAID_SECONDS), |seconds| {
        let bounded = std::time::Duration::try_from_secs_f64(seconds.clamp(0.0, 86_400.0));
        bounded.ok().and_then(|it| TimeDelta::from_std(it).ok()).unwrap_or_default()
    });
    said - TimeDelta::seconds(LAST_SECONDS)
}

/// Id and secret are form-encoded before they go into the header (RFC 6749, section 2.3.1).
fn headers(client: &ClientCredentials) -> Result<HeaderMap, Stop> {
    let mut headers = HeaderMap::new();
    let form = HeaderValue::from_static("application/x-www-form-urlencoded");
    headers.insert(CONTENT_TYPE, form);
    headers.insert(ACCEPT, HeaderValue::from_static("application/json"));
    if !client.in_body {
        let encoded =
            |text: &str| -> String { form_urlencoded::byte_serialize(text.as_bytes()).collect() };
        let pair = format!("{}:{}", encoded(&client.client_id), encoded(client.secret.reveal()));
        let header = Sensitive::of(&format!("Basic {}", STANDARD.encode(pair))).map_err(no)?;
        headers.insert(AUTHORIZATION, header.reveal().clone());
    }
    Ok(headers)
}

fn body(client: &ClientCredentials) -> String {
    let mut form = form_urlencoded::Serializer::new(String::new());
    form.append_pair("grant_type", "client_credentials");
    if let Some(scope) = &client.scope {
        form.append_pair("scope", scope);
    }
    if client.in_body {
        form.append_pair("client_id", &client.client_id);
        form.append_pair("client_secret", client.secret.reveal());
    }
    form.finish()
}

/// The word of the standard for what is wrong, where the answer has one.
fn refused(status: StatusCode, body: &[u8]) -> Stop {
    let word = serde_json::from_slice::<Refused>(body).ok().map(|it| it.error);
    let plain = |word: &String| {
        word.len() <= 40 && word.bytes().all(|letter| letter.is_ascii_lowercase() || letter == b'_')
    };
    let detail = match word.filter(plain) {
        Some(word) => format!("No token is given: {status}, `{word}`."),
        None => format!("No token is given: {status}."),
    };
    no(&detail)
}

#[cfg(test)]
mod tests {
    use super::lasting;
    use serde_json::{Value, json};

    #[test]
    fn a_token_is_not_used_in_its_last_seconds() {
        let lasting = |said: &Value| lasting(Some(said)).num_seconds();
        for (said, seconds) in [
            (json!(3600), 3580),
            (json!("3600"), 3580),
            (json!(" 90.5 "), 70),
            (json!(0), -20),
            (json!(-5), -20),
            (json!(1e300), 86_380),
            (json!("inf"), 86_380),
            (json!("NaN"), 3580),
            (json!("soon"), 3580),
            (json!([60]), 3580),
            (Value::Null, 3580),
        ] {
            assert_eq!(lasting(&said), seconds, "{said}");
        }
        assert_eq!(super::lasting(None).num_seconds(), 3580);
    }
}
