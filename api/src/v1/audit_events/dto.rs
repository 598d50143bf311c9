//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store::Filter;
use crate::auth::role::Role;
use crate::entities::audit_events;
use crate::http::page::Asked;
use crate::http::{ApiError, BadMember, Refused};

/// Longest `operation` and `object_id` that are worth looking for.
const LONGEST: usize = 120;

/// Something that was done.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-00000000000a",
    "at": "2027-04-20T12:00:00Z",
    "account_id": "01964f1e-6a00-7000-8000-000000000001",
    "role": "advisor",
    "request_id": "01964f1e-6a00-7000-8000-00000000000b",
    "operation": "update_grower",
    "object_kind": "grower",
    "object_id": "01964f1e-6a00-7000-8000-000000000002",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "changed": ["phone", "notes"]
})))]
pub struct AuditEvent {
    /// Id of the event; later events have greater ones.
    pub id: Uuid,
    /// When it was done.
    pub at: DateTime<Utc>,
    /// The account that did it.
    pub account_id: Uuid,
    /// What the account was then.
    pub role: Role,
    /// The machine client that did it for the account; absent for people.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub client_id: Option<Uuid>,
    /// The id of the request, as in its `x-request-id` and in the log.
    #[schema(example = "01964f1e-6a00-7000-8000-00000000000b")]
    pub request_id: String,
    /// The operation, as named in the API document.
    #[schema(example = "update_grower")]
    pub operation: String,
    /// What kind of object it was done to.
    #[schema(example = "grower")]
    pub object_kind: String,
    /// Id of the object; its name where it has no id.
    #[schema(example = "01964f1e-6a00-7000-8000-000000000002")]
    pub object_id: String,
    /// The grower whose object it is, where it is one's.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Names of the members that a change set; their values are not kept here.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 100, example = json!(["phone", "notes"]))]
    pub changed: Option<Vec<String>>,
}

impl AuditEvent {
    /// The row as it goes over the wire.
    pub fn show(row: audit_events::Model) -> Result<Self, ApiError> {
        let audit_events::Model {
            practice_id: _,
            id,
            at,
            account_id,
            role,
            client_id,
            request_id,
            operation,
            object_kind,
            object_id,
            grower_id,
            changed,
        } = row;
        let changed =
            changed.map(serde_json::from_value).transpose().map_err(ApiError::internal)?;
        Ok(Self {
            id,
            at,
            account_id,
            role,
            client_id,
            request_id,
            operation,
            object_kind,
            object_id,
            grower_id,
            changed,
        })
    }
}

/// A page of what was done.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-00000000000a",
        "at": "2027-04-20T12:00:00Z",
        "account_id": "01964f1e-6a00-7000-8000-000000000001",
        "role": "advisor",
        "request_id": "01964f1e-6a00-7000-8000-00000000000b",
        "operation": "create_grower",
        "object_kind": "grower",
        "object_id": "01964f1e-6a00-7000-8000-000000000002"
    }],
    "next_cursor": "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4"
})))]
pub struct AuditEventPage {
    /// What was done, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<AuditEvent>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which events.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct AuditEventFilter {
    /// Only what was done at this time or later.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-01T00:00:00Z")]
    pub since: Option<DateTime<Utc>>,
    /// Only what was done before this time.
    #[serde(default)]
    #[param(nullable = false, example = "2027-05-01T00:00:00Z")]
    pub until: Option<DateTime<Utc>>,
    /// Only what this account did.
    #[serde(default)]
    #[param(nullable = false)]
    pub account_id: Option<Uuid>,
    /// Only what was done to this object.
    #[serde(default)]
    #[param(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "01964f1e-6a00-7000-8000-000000000002"
    )]
    pub object_id: Option<String>,
    /// Only this operation, as named in the API document.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120, example = "update_grower")]
    pub operation: Option<String>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}

impl AuditEventFilter {
    /// Which events, and what is asked of the page.
    pub(super) fn parse(self) -> Result<(Filter, Asked), ApiError> {
        let Self { since, until, account_id, object_id, operation, limit, cursor } = self;
        let filter = filter(since, until, account_id, (object_id, operation))?;
        Ok((filter, Asked { limit, cursor, ..Asked::default() }))
    }
}

/// Which events.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct AuditExportFilter {
    /// Only what was done at this time or later.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-01T00:00:00Z")]
    pub since: Option<DateTime<Utc>>,
    /// Only what was done before this time; now when absent.
    #[serde(default)]
    #[param(nullable = false, example = "2027-05-01T00:00:00Z")]
    pub until: Option<DateTime<Utc>>,
    /// Only what this account did.
    #[serde(default)]
    #[param(nullable = false)]
    pub account_id: Option<Uuid>,
    /// Only what was done to this object.
    #[serde(default)]
    #[param(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "01964f1e-6a00-7000-8000-000000000002"
    )]
    pub object_id: Option<String>,
    /// Only this operation, as named in the API document.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120, example = "update_grower")]
    pub operation: Option<String>,
}

impl AuditExportFilter {
    /// Which events; what is done while they are read is left out.
    pub(super) fn parse(self, now: DateTime<Utc>) -> Result<Filter, ApiError> {
        let Self { since, until, account_id, object_id, operation } = self;
        filter(since, Some(until.unwrap_or(now)), account_id, (object_id, operation))
    }
}

fn filter(
    since: Option<DateTime<Utc>>,
    until: Option<DateTime<Utc>>,
    account_id: Option<Uuid>,
    (object_id, operation): (Option<String>, Option<String>),
) -> Result<Filter, ApiError> {
    let mut refused = Refused::default();
    for (pointer, text) in [("?object_id", &object_id), ("?operation", &operation)] {
        if text.as_ref().is_some_and(|text| !(1..=LONGEST).contains(&text.chars().count())) {
            let member = BadMember::new(pointer, "This is too short or too long.");
            refused.add(member.allowed(format!("1 to {LONGEST} characters")));
        }
    }
    refused.finish()?;
    Ok(Filter { since, until, account_id, object_id, operation })
}
