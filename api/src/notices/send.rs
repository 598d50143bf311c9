//! One try.

use std::time::Duration;

use chrono::{DateTime, Utc};
use reqwest::Url;
use reqwest::header::{CONTENT_TYPE, HeaderMap, HeaderName, HeaderValue};

use super::message::Message;
use super::outcome::{Outcome, Refusal};
use super::signature::sign;
use crate::app::AppState;
use crate::entities::webhooks;
use crate::outgoing::OutgoingRequest;
use crate::sealed::Secret;

/// How long a receiver may take.
const PATIENCE: Duration = Duration::from_secs(20);
/// How much of an answer is read: nothing is done with it, but a connection is used again only when it was read.
const READ: usize = 4096;

/// What all notices of a webhook need; in words for its owner, why there is none.
#[derive(Debug)]
pub(super) struct Receiver(Result<Ready, &'static str>);

#[derive(Debug)]
struct Ready {
    url: Url,
    secrets: Vec<Secret>,
}

impl Receiver {
    /// Opens the secrets that sign now: two while they are changed. Where the key is gone that they were kept under,
    /// notices fail like others, so that they are dead at last and somebody is told.
    pub(super) fn of(app: &AppState, webhook: &webhooks::Model) -> Self {
        let now = app.clock.now();
        let before = webhook.secret_before.as_ref();
        let before = before.filter(|_| webhook.secret_before_until.is_some_and(|end| now < end));
        let open = |sealed: &String| {
            let opened = app.sealer.open(webhook.practice_id, sealed);
            opened.inspect_err(|error| {
                tracing::warn!(webhook = %webhook.id, %error, "a secret is not opened");
            })
        };
        let Ok(url) = Url::parse(&webhook.url) else {
            return Self(Err("The address of the webhook can't be used."));
        };
        let Ok(secret) = open(&webhook.secret) else {
            return Self(Err("The secret of the webhook can't be opened any more; make another."));
        };
        let before = before.and_then(|sealed| open(sealed).ok());
        Self(Ok(Ready { url, secrets: std::iter::once(secret).chain(before).collect() }))
    }

    /// Sends a message once.
    pub(super) async fn send(&self, app: &AppState, message: Message) -> Outcome {
        let now = app.clock.now();
        let ready = self.0.as_ref().map_err(|why| *why);
        let signed = ready.and_then(|ready| {
            let headers = ready.headers(&message, now);
            let headers = headers.ok_or("The secret of the webhook is none that can sign.")?;
            Ok((ready.url.clone(), headers))
        });
        let (url, headers) = match signed {
            Ok(signed) => signed,
            Err(why) => return Outcome::Refused(Refusal::of_ours(why)),
        };
        let request = OutgoingRequest {
            headers,
            most_bytes: READ,
            only_beginning: true,
            timeout: PATIENCE,
            ..OutgoingRequest::post(url, message.body)
        };
        Outcome::of(app.outgoing.send(request).await, app.clock.now())
    }
}

impl Ready {
    /// The three headers of the standard, and what the body is.
    fn headers(&self, message: &Message, now: DateTime<Utc>) -> Option<HeaderMap> {
        let timestamp = now.timestamp();
        let signed: Option<Vec<String>> = self
            .secrets
            .iter()
            .map(|secret| sign(secret.reveal(), &message.id, timestamp, &message.body))
            .collect();
        let mut headers = HeaderMap::new();
        headers.insert(CONTENT_TYPE, HeaderValue::from_static(message.content_type));
        for (name, value) in [
            ("webhook-id", message.id.clone()),
            ("webhook-timestamp", timestamp.to_string()),
            ("webhook-signature", signed?.join(" ")),
        ] {
            headers.insert(HeaderName::from_static(name), HeaderValue::from_str(&value).ok()?);
        }
        Some(headers)
    }
}
