//! What goes over the wire.

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store::NewLink;
use crate::entities::access_links;
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused, text};

/// Days that a link is good for when nothing else is said.
const DAYS: i64 = 14;
/// Most days that a link can be good for.
const MOST_DAYS: i64 = 90;

/// A new link for a grower.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "note": "For the phone in the tractor.",
    "expires_at": "2027-05-04T12:00:00Z"
})))]
pub struct AccessLinkIn {
    /// The grower who is let in.
    pub grower_id: Uuid,
    /// What the link is for, for the advisor.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "For the phone in the tractor.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub note: Option<String>,
    /// When the link stops working: 14 days from now when absent, 90 days from now at most.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub expires_at: Option<DateTime<Utc>>,
    /// Whether the link works once only; so it is when absent. What it opened goes on.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = true)]
    pub single_use: Option<bool>,
}

impl AccessLinkIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self, now: DateTime<Utc>) -> Result<NewLink, ApiError> {
        let Self { grower_id, note, expires_at, single_use } = self;
        let mut refused = Refused::default();
        let note = note.and_then(|given| refused.take(text::notes("/note", &given)));
        let expires_at = match expires_at {
            Some(given) => refused.take(end(given, now)),
            None => Some(now + TimeDelta::days(DAYS)),
        };
        let Some(expires_at) = expires_at else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(NewLink { grower_id, note, expires_at, single_use: single_use.unwrap_or(true) })
    }
}

fn end(given: DateTime<Utc>, now: DateTime<Utc>) -> Result<DateTime<Utc>, BadMember> {
    let latest = now + TimeDelta::days(MOST_DAYS);
    if given > now && given <= latest {
        return Ok(given);
    }
    Err(BadMember::new("/expires_at", "The end is in the past, or too far away.")
        .given(given.to_rfc3339())
        .allowed(format!("after {}, until {}", now.to_rfc3339(), latest.to_rfc3339()))
        .why("a link lies about in mail boxes, and whoever finds it is let in"))
}

/// Whether a link works.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(examples("works"))]
pub enum AccessLinkStatus {
    /// It works.
    Works,
    /// It was used, and works once only.
    Used,
    /// Its time is over.
    Expired,
    /// It was revoked.
    Revoked,
}

/// A link that lets a grower in. The link itself is shown when it is made, and never again.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000041",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "made_by": "01964f1e-6a00-7000-8000-000000000001",
    "note": "For the phone in the tractor.",
    "single_use": true,
    "status": "works",
    "expires_at": "2027-05-04T12:00:00Z",
    "created_at": "2027-04-20T12:00:00Z"
})))]
pub struct AccessLink {
    /// Id of the link.
    pub id: Uuid,
    /// The grower who is let in.
    pub grower_id: Uuid,
    /// Account of who made the link.
    pub made_by: Uuid,
    /// What the link is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "For the phone in the tractor.")]
    pub note: Option<String>,
    /// Whether the link works once only.
    #[schema(example = true)]
    pub single_use: bool,
    /// Whether the link works now.
    pub status: AccessLinkStatus,
    /// When the link stops working.
    pub expires_at: DateTime<Utc>,
    /// When the link was made.
    pub created_at: DateTime<Utc>,
    /// When it last let somebody in; absent when never.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub last_used_at: Option<DateTime<Utc>>,
    /// When it was revoked; absent when it was not.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub revoked_at: Option<DateTime<Utc>>,
}

impl AccessLink {
    /// The link as it stands now.
    pub(in crate::v1) fn at(now: DateTime<Utc>, row: access_links::Model) -> Self {
        let status = status(now, &row);
        let access_links::Model {
            practice_id: _,
            id,
            grower_id,
            made_by,
            token_hash: _,
            note,
            single_use,
            expires_at,
            created_at,
            last_used_at,
            revoked_at,
        } = row;
        Self {
            id,
            grower_id,
            made_by,
            note,
            single_use,
            status,
            expires_at,
            created_at,
            last_used_at,
            revoked_at,
        }
    }
}

/// Whether a link works at a time.
pub(super) fn status(now: DateTime<Utc>, row: &access_links::Model) -> AccessLinkStatus {
    if row.revoked_at.is_some() {
        AccessLinkStatus::Revoked
    } else if row.single_use && row.last_used_at.is_some() {
        AccessLinkStatus::Used
    } else if row.expires_at <= now {
        AccessLinkStatus::Expired
    } else {
        AccessLinkStatus::Works
    }
}

/// A link that was just made, with its token, which is shown this once.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "link": {
        "id": "01964f1e-6a00-7000-8000-000000000041",
        "grower_id": "01964f1e-6a00-7000-8000-000000000002",
        "made_by": "01964f1e-6a00-7000-8000-000000000001",
        "note": "For the phone in the tractor.",
        "single_use": true,
        "status": "works",
        "expires_at": "2027-05-04T12:00:00Z",
        "created_at": "2027-04-20T12:00:00Z"
    },
    "token": "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk",
    "url": "https://dibble.example.org/go#dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"
})))]
pub struct NewAccessLink {
    /// The link.
    pub link: AccessLink,
    /// What `POST /v1/access-links/redeem` takes.
    #[schema(
        min_length = 43,
        max_length = 43,
        pattern = "^[A-Za-z0-9_-]{43}$",
        example = "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"
    )]
    pub token: String,
    /// The address to give to the grower: `/go` under the public address of the service, where your
    /// page for growers stands. The token is behind `#`, which a browser sends to no server, so that
    /// it is in nobody's log; the page sends it to `POST /v1/access-links/redeem`.
    #[schema(
        example = "https://dibble.example.org/go#dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"
    )]
    pub url: String,
}

/// The token of a link.
#[derive(Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"token": "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"})))]
pub struct AccessLinkToken {
    /// What stands behind `#` in the address of the link.
    #[schema(
        min_length = 1,
        max_length = 200,
        example = "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk"
    )]
    pub token: String,
}

/// A page of access links.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "id": "01964f1e-6a00-7000-8000-000000000041",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "made_by": "01964f1e-6a00-7000-8000-000000000001",
    "single_use": true,
    "status": "works",
    "expires_at": "2027-05-04T12:00:00Z",
    "created_at": "2027-04-20T12:00:00Z"
}]})))]
pub struct AccessLinkPage {
    /// The links of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<AccessLink>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAtV2xJ0cOZLB")]
    pub next_cursor: Option<String>,
}

/// Which access links.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct AccessLinkFilter {
    /// Only those of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}

#[cfg(test)]
mod tests {
    use super::{AccessLinkIn, AccessLinkStatus, status};
    use crate::entities::access_links;
    use chrono::{DateTime, TimeDelta, Utc};
    use uuid::Uuid;

    fn noon() -> DateTime<Utc> {
        "2027-04-20T12:00:00Z".parse().expect("time")
    }

    fn ends(after: Option<TimeDelta>) -> Option<TimeDelta> {
        let link = AccessLinkIn {
            grower_id: Uuid::from_u128(1),
            note: None,
            expires_at: after.map(|after| noon() + after),
            single_use: None,
        };
        link.parse(noon()).ok().map(|link| link.expires_at - noon())
    }

    #[test]
    fn a_link_ends_after_two_weeks_or_as_told_but_within_ninety_days() {
        assert_eq!(ends(None), Some(TimeDelta::days(14)));
        assert_eq!(ends(Some(TimeDelta::seconds(1))), Some(TimeDelta::seconds(1)));
        assert_eq!(ends(Some(TimeDelta::days(90))), Some(TimeDelta::days(90)));
        assert_eq!(ends(Some(TimeDelta::days(90) + TimeDelta::seconds(1))), None);
        assert_eq!(ends(Some(TimeDelta::zero())), None);
    }

    #[test]
    fn it_works_until_it_was_used_is_over_or_revoked() {
        let fresh = access_links::Model {
            practice_id: Uuid::nil(),
            id: Uuid::nil(),
            grower_id: Uuid::nil(),
            made_by: Uuid::nil(),
            token_hash: String::new(),
            note: None,
            single_use: true,
            expires_at: noon(),
            created_at: noon(),
            last_used_at: None,
            revoked_at: None,
        };
        let before = noon() - TimeDelta::seconds(1);
        let used = access_links::Model { last_used_at: Some(before), ..fresh.clone() };
        let often = access_links::Model { single_use: false, ..used.clone() };
        let revoked = access_links::Model { revoked_at: Some(before), ..often.clone() };
        assert_eq!(status(before, &fresh), AccessLinkStatus::Works);
        assert_eq!(status(noon(), &fresh), AccessLinkStatus::Expired);
        assert_eq!(status(before, &used), AccessLinkStatus::Used);
        assert_eq!(status(before, &often), AccessLinkStatus::Works);
        assert_eq!(status(before, &revoked), AccessLinkStatus::Revoked);
    }
}
