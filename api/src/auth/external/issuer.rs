//! One issuer and what is known of its keys.
//!
//! Keys are used as long as the issuer says, then asked for anew. A token with a key that is not
//! known makes us ask, too, but at most once a minute, so that made-up tokens can't make us flood
//! the issuer. While the issuer does not answer, the keys of before are used for some hours more.

use std::sync::{Arc, PoisonError, RwLock};

use chrono::{DateTime, TimeDelta, Utc};
use reqwest::Client;
use tokio::sync::Mutex;

use super::claims::Head;
use super::configured::Configured;
use super::fetch;
use super::key_set::OutsideKey;

/// How long keys are used while the issuer does not answer.
const STALE_FOR: TimeDelta = TimeDelta::hours(6);
/// The least time between two questions, when keys are known and when none are.
const PAUSE: TimeDelta = TimeDelta::seconds(60);
const PAUSE_WITHOUT_KEYS: TimeDelta = TimeDelta::seconds(10);

/// One issuer.
#[derive(Debug)]
pub(super) struct Issuer {
    pub(super) configured: Configured,
    client: Client,
    known: RwLock<Option<Arc<Known>>>,
    last: Mutex<Option<Asked>>,
}

/// Keys that were got.
#[derive(Debug)]
struct Known {
    keys: Vec<OutsideKey>,
    fresh_until: DateTime<Utc>,
    usable_until: DateTime<Utc>,
}

/// When the issuer was last asked, and whether it answered.
#[derive(Debug, Clone, Copy)]
struct Asked {
    at: DateTime<Utc>,
    answered: bool,
}

/// What came of looking for a key.
#[derive(Debug)]
pub(super) enum Looked {
    Found(OutsideKey),
    NoSuchKey,
    NotToBeHad { seconds: u64 },
}

impl Known {
    fn find(&self, head: &Head) -> Option<OutsideKey> {
        let fits = |key: &&OutsideKey| key.kid == head.kid && key.algorithm == head.algorithm;
        self.keys.iter().find(fits).cloned()
    }
}

impl Issuer {
    pub(super) fn new(configured: Configured, client: Client) -> Self {
        Self { configured, client, known: RwLock::new(None), last: Mutex::new(None) }
    }

    /// The key of a token.
    pub(super) async fn key(self: &Arc<Self>, head: &Head, now: DateTime<Utc>) -> Looked {
        let before = self.known(now);
        let key = before.as_ref().and_then(|known| known.find(head));
        if let (Some(known), Some(key)) = (&before, &key) {
            if now < known.fresh_until {
                return Looked::Found(key.clone());
            }
            if self.last.try_lock().is_err() {
                return Looked::Found(key.clone()); // someone is asking already
            }
        }
        let asked = self.ask_in_peace(now).await;
        match self.known(now).map(|known| known.find(head)) {
            Some(Some(key)) => Looked::Found(key),
            // The token may well be signed with a key that we could not get.
            Some(None) if asked.answered => Looked::NoSuchKey,
            Some(None) => Looked::NotToBeHad { seconds: wait(asked.at + PAUSE, now) },
            None => Looked::NotToBeHad { seconds: wait(asked.at + PAUSE_WITHOUT_KEYS, now) },
        }
    }

    /// What is known and may be used.
    fn known(&self, now: DateTime<Utc>) -> Option<Arc<Known>> {
        let known = self.known.read().unwrap_or_else(PoisonError::into_inner);
        known.as_ref().filter(|known| now < known.usable_until).cloned()
    }

    /// Asks, on a task of its own: a caller who hangs up must not break it off for all others.
    async fn ask_in_peace(self: &Arc<Self>, now: DateTime<Utc>) -> Asked {
        let issuer = Arc::clone(self);
        let asking = tokio::spawn(async move { issuer.ask(now).await });
        asking.await.unwrap_or(Asked { at: now, answered: false })
    }

    /// Asks the issuer, unless that was done a moment ago. One asks; the others wait for it.
    async fn ask(&self, now: DateTime<Utc>) -> Asked {
        let mut last = self.last.lock().await;
        let pause = if self.known(now).is_some() { PAUSE } else { PAUSE_WITHOUT_KEYS };
        if let Some(asked) = *last
            && now < asked.at + pause
        {
            return asked;
        }
        let answered = match fetch::keys(&self.client, &self.configured.issuer).await {
            Ok(fetched) => {
                let fresh_until = now + fetched.fresh_for;
                let usable_until = fresh_until + STALE_FOR;
                let known = Known { keys: fetched.keys, fresh_until, usable_until };
                *self.known.write().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(known));
                true
            }
            Err(error) => {
                let error = crate::http::ApiError::internal(error);
                let issuer = &self.configured.issuer;
                tracing::warn!(issuer, cause = error.chain(), "the keys of an issuer were not got");
                false
            }
        };
        let asked = Asked { at: now, answered };
        *last = Some(asked);
        asked
    }
}

/// Seconds from now until a time, at least one.
fn wait(until: DateTime<Utc>, now: DateTime<Utc>) -> u64 {
    u64::try_from((until - now).num_seconds()).unwrap_or(0).max(1)
}
