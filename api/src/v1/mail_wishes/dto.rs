//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::entities::mail_wishes::{self, Digest};
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused};
use crate::mail::wishes::When;

/// What you get by mail.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "digest": "daily", "hour": 6, "weekday": 1, "next_at": "2027-04-21T11:00:00Z"
})))]
pub struct OwnMail {
    /// How often you get the attention list.
    pub digest: Digest,
    /// At which hour of the day, where the practice is.
    #[schema(minimum = 0, maximum = 23, example = 6)]
    pub hour: u32,
    /// On which day of the week a weekly one comes; 1 is Monday.
    #[schema(minimum = 1, maximum = 7, example = 1)]
    pub weekday: u32,
    /// When the next one comes, if anything needs you then; absent when none does.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub next_at: Option<DateTime<Utc>>,
}

impl OwnMail {
    /// As it is now; nothing without a row.
    pub(super) fn of(row: Option<&mail_wishes::Model>) -> Self {
        let When { digest, hour, weekday } = row.map_or(When::NEVER, When::of);
        Self { digest, hour, weekday, next_at: row.and_then(|row| row.next_digest_at) }
    }
}

/// What you want to get by mail.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"digest": "daily", "hour": 6})))]
pub struct OwnMailIn {
    /// How often you want the attention list.
    pub digest: Digest,
    /// At which hour of the day, where the practice is; 6 when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0, maximum = 23, example = 6)]
    pub hour: Option<u32>,
    /// On which day of the week a weekly one comes; 1 is Monday, and so when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 7, example = 1)]
    pub weekday: Option<u32>,
}

impl OwnMailIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<When, ApiError> {
        let Self { digest, hour, weekday } = self;
        let mut refused = Refused::default();
        let hour = refused.take(within("/hour", hour.unwrap_or(When::NEVER.hour), 0, 23));
        let weekday =
            refused.take(within("/weekday", weekday.unwrap_or(When::NEVER.weekday), 1, 7));
        match (hour, weekday) {
            (Some(hour), Some(weekday)) => Ok(When { digest, hour, weekday }),
            _ => Err(refused.into()),
        }
    }
}

fn within(pointer: &str, given: u32, least: u32, most: u32) -> Result<u32, BadMember> {
    if (least..=most).contains(&given) {
        return Ok(given);
    }
    let bad = BadMember::new(pointer, "There is no such hour or day.").given(given);
    Err(bad.allowed(format!("{least} to {most}")))
}

/// What a grower gets by mail.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"sheets": true, "has_address": true, "updated_at": "2027-04-20T12:00:00Z"})))]
pub struct GrowerMail {
    /// Whether mail goes out when a sheet is ready.
    #[schema(example = true)]
    pub sheets: bool,
    /// Whether the grower has an e-mail address; without one no mail goes out.
    #[schema(example = true)]
    pub has_address: bool,
    /// Account of who said so last; absent where nobody did, or the grower stopped it from a mail.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub updated_by: Option<Uuid>,
    /// When that was said; absent where nobody did.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub updated_at: Option<DateTime<Utc>>,
}

impl GrowerMail {
    /// As it is now; nothing without a row.
    pub fn of(row: Option<&mail_wishes::Model>, has_address: bool) -> Self {
        Self {
            sheets: row.is_some_and(|row| row.sheets),
            has_address,
            updated_by: row.and_then(|row| row.updated_by),
            updated_at: row.map(|row| row.updated_at),
        }
    }
}

/// What a grower agreed to get by mail.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"sheets": true})))]
pub struct GrowerMailIn {
    /// Whether mail goes out when a sheet is ready. Say so only when the grower agreed.
    #[schema(example = true)]
    pub sheets: bool,
}

/// Whom an access link is mailed to.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"grower_id": "01964f1e-6a00-7000-8000-000000000002"})))]
pub struct MailAccessLinkIn {
    /// The grower.
    pub grower_id: Uuid,
}

/// Mail that will go out.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"job_id": "01964f1e-6a00-7000-8000-000000000071"})))]
pub struct QueuedMail {
    /// The job that sends it, for the lead to look at.
    pub job_id: Uuid,
}
