//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store::{NewWebhook as New, WebhookChange};
use crate::changes::ChangeType;
use crate::entities::webhooks::{Model, NoticeForm, WebhookStatus};
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused, text};
use crate::outgoing::Outgoing;

/// Longest address in characters.
const URL_MOST: usize = 2000;
/// Hours for which the old secret goes on signing when nothing else is said.
const OVERLAP_HOURS: u16 = 24;
/// Most hours for which it can.
const MOST_OVERLAP_HOURS: u16 = 168;

/// A new webhook.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "name": "Records of the county",
    "url": "https://records.example.org/notices",
    "types": ["settings_sheet.published", "dig_check.recorded"]
})))]
pub struct WebhookIn {
    /// Name, for people.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "Records of the county",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Address that notices are posted to. `https`, on the public internet unless the operator of the service
    /// allows other networks; without user and password.
    #[schema(
        min_length = 9,
        max_length = 2000,
        pattern = r"^https?://\S+$",
        example = "https://records.example.org/notices"
    )]
    pub url: String,
    /// Types of changes that are told; all when absent or empty.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, max_items = 100, example = json!(["dig_check.recorded"]))]
    pub types: Option<Vec<ChangeType>>,
    /// What a notice looks like; `plain` when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub form: Option<NoticeForm>,
    /// Whether notices come one after the other, in the order of the changes: one that fails then holds back
    /// those after it until it arrives or is given up. `false` when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = false)]
    pub ordered: Option<bool>,
    /// `position` of the change after which it begins, as `GET /v1/changes` says it; 0 tells all that ever changed. When
    /// absent, what changes from now on is told.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0, maximum = 9_007_199_254_740_991_i64, example = 0)]
    pub after: Option<i64>,
}

impl WebhookIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self, outgoing: &Outgoing) -> Result<New, ApiError> {
        let Self { name, url, types, form, ordered, after } = self;
        let mut refused = Refused::default();
        let name = refused.take(text::name("/name", &name));
        let url = refused.take(address(outgoing, &url));
        let (Some(name), Some(url)) = (name, url) else {
            return Err(refused.into());
        };
        Ok(New {
            name,
            url,
            types: words(types.unwrap_or_default()),
            form: form.unwrap_or(NoticeForm::Plain),
            ordered: ordered.unwrap_or(false),
            after,
        })
    }
}

/// Changes to a webhook. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"url": "https://records.example.org/notices/v2"})))]
pub struct WebhookPatch {
    /// Name, for people.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "Records of the county",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
    /// Address that notices are posted to.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 9,
        max_length = 2000,
        pattern = r"^https?://\S+$",
        example = "https://records.example.org/notices/v2"
    )]
    pub url: Option<String>,
    /// Types of changes that are told; all when empty.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, max_items = 100, example = json!(["dig_check.recorded"]))]
    pub types: Option<Vec<ChangeType>>,
    /// What a notice looks like.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub form: Option<NoticeForm>,
    /// Whether notices come one after the other.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = true)]
    pub ordered: Option<bool>,
}

impl WebhookPatch {
    /// The only way from the wire to the store.
    pub(super) fn parse(self, outgoing: &Outgoing) -> Result<WebhookChange, ApiError> {
        let Self { name, url, types, form, ordered } = self;
        let mut refused = Refused::default();
        let name = name.and_then(|given| refused.take(text::name("/name", &given)));
        let url = url.and_then(|given| refused.take(address(outgoing, &given)));
        refused.finish()?;
        Ok(WebhookChange { name, url, types: types.map(words), form, ordered })
    }
}

/// Types as they are kept: each once, in the order of the table.
fn words(mut types: Vec<ChangeType>) -> String {
    types.sort_unstable();
    types.dedup();
    types.iter().map(|it| it.wire()).collect::<Vec<_>>().join(" ")
}

/// The address is not repeated in the refusal: a password may stand in it.
fn address(outgoing: &Outgoing, given: &str) -> Result<String, BadMember> {
    let bad = |detail: String| {
        BadMember::new("/url", detail)
            .allowed("an address such as https://records.example.org/notices")
            .why("notices go out from inside the operator's network")
    };
    if given.chars().count() > URL_MOST {
        return Err(bad(format!("The address has more than {URL_MOST} characters.")));
    }
    let url = outgoing.address(given).map_err(|error| bad(error.to_string()))?;
    Ok(url.into())
}

/// Where notices of changes go.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000081",
    "name": "Records of the county",
    "url": "https://records.example.org/notices",
    "types": ["settings_sheet.published", "dig_check.recorded"],
    "form": "plain",
    "ordered": false,
    "status": "active",
    "secret_set": true,
    "read_to": 1204,
    "made_by": "01964f1e-6a00-7000-8000-000000000003",
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct Webhook {
    /// Id of the webhook.
    pub id: Uuid,
    /// Name, for people.
    #[schema(example = "Records of the county")]
    pub name: String,
    /// Address that notices are posted to.
    #[schema(example = "https://records.example.org/notices")]
    pub url: String,
    /// Types of changes that are told; all when empty.
    #[schema(max_items = 100, example = json!(["dig_check.recorded"]))]
    pub types: Vec<ChangeType>,
    /// What a notice looks like.
    pub form: NoticeForm,
    /// Whether notices come one after the other.
    #[schema(example = false)]
    pub ordered: bool,
    /// Whether notices go out.
    pub status: WebhookStatus,
    /// Why the service stopped it; absent when it did not.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "The receiver wants no more notices (410).")]
    pub stopped_because: Option<String>,
    /// Whether notices are signed; always. The secret is shown once, when it is made.
    #[schema(example = true)]
    pub secret_set: bool,
    /// Until when the secret before signs too; absent when it does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub old_secret_until: Option<DateTime<Utc>>,
    /// Position up to which changes have become deliveries.
    #[schema(minimum = 0, example = 1204)]
    pub read_to: i64,
    /// Since when nothing got through; absent when the last notice did.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub failing_since: Option<DateTime<Utc>>,
    /// When it is tried again, after nothing got through or the receiver asked to be left alone; absent otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub held_until: Option<DateTime<Utc>>,
    /// The account that made it. When it is shut out, the webhook is stopped.
    pub made_by: Uuid,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When it was made.
    pub created_at: DateTime<Utc>,
    /// When it was last changed.
    pub updated_at: DateTime<Utc>,
}

impl Webhook {
    /// As it is at this time.
    pub(super) fn of(row: Model, now: DateTime<Utc>) -> Self {
        let Model {
            practice_id: _,
            id,
            made_by,
            name,
            url,
            types,
            form,
            ordered,
            status,
            stopped_because,
            secret: _,
            secret_before,
            secret_before_until,
            read_to,
            due_at: _,
            held_until,
            failures: _,
            failing_since,
            lease: _,
            leased_until: _,
            version,
            created_at,
            updated_at,
        } = row;
        Self {
            id,
            name,
            url,
            types: types.split_whitespace().filter_map(ChangeType::named).collect(),
            form,
            ordered,
            status,
            stopped_because,
            secret_set: true,
            old_secret_until: secret_before.and(secret_before_until).filter(|end| now < *end),
            read_to,
            failing_since,
            held_until: held_until.filter(|end| now < *end),
            made_by,
            version,
            created_at,
            updated_at,
        }
    }
}

/// A new webhook and its secret, which is shown this once.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "webhook": {
        "id": "01964f1e-6a00-7000-8000-000000000081",
        "name": "Records of the county",
        "url": "https://records.example.org/notices",
        "types": [],
        "form": "plain",
        "ordered": false,
        "status": "active",
        "secret_set": true,
        "read_to": 1204,
        "made_by": "01964f1e-6a00-7000-8000-000000000003",
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    },
    "secret": "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8="
})))]
pub struct NewWebhook {
    /// The webhook.
    pub webhook: Webhook,
    /// What notices are signed with: base64 after `whsec_`, as the libraries of Standard Webhooks take it.
    #[schema(
        min_length = 50,
        max_length = 50,
        pattern = "^whsec_[A-Za-z0-9+/]{43}=$",
        example = "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8="
    )]
    pub secret: String,
}

/// For how long the secret before goes on signing.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"overlap_hours": 24})))]
pub struct RotationIn {
    /// Hours for which both secrets sign, so that the receiver can take its time; 24 when absent, 0 when the secret
    /// before became known to somebody.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0, maximum = 168, example = 24)]
    pub overlap_hours: Option<u16>,
}

impl RotationIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<u16, BadMember> {
        let hours = self.overlap_hours.unwrap_or(OVERLAP_HOURS);
        if hours <= MOST_OVERLAP_HOURS {
            return Ok(hours);
        }
        Err(BadMember::new("/overlap_hours", "The secret before would go on for too long.")
            .given(hours)
            .allowed(format!("0 to {MOST_OVERLAP_HOURS}"))
            .why("a secret that is given up should not sign for weeks"))
    }
}

/// A secret that was just made. It is shown this once.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "secret": "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=",
    "old_secret_until": "2027-04-21T12:00:00Z"
})))]
pub struct WebhookSecret {
    /// What notices are signed with from now on.
    #[schema(
        min_length = 50,
        max_length = 50,
        pattern = "^whsec_[A-Za-z0-9+/]{43}=$",
        example = "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8="
    )]
    pub secret: String,
    /// Until when the secret before signs too; absent when it does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub old_secret_until: Option<DateTime<Utc>>,
}

/// From where changes are told again.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"after": 1100})))]
pub struct ReplayIn {
    /// `position` of a change, as `GET /v1/changes` says it: all after it is told again.
    #[schema(minimum = 0, maximum = 9_007_199_254_740_991_i64, example = 1100)]
    pub after: i64,
}

/// What is sent again.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"again": 104, "read_to": 1100})))]
pub struct Replay {
    /// Deliveries that wait again. Those of a change that were swept out are made anew besides.
    #[schema(minimum = 0, example = 104)]
    pub again: u64,
    /// Position after which changes are read.
    #[schema(minimum = 0, example = 1100)]
    pub read_to: i64,
}

/// A page of webhooks.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "id": "01964f1e-6a00-7000-8000-000000000081",
    "name": "Records of the county",
    "url": "https://records.example.org/notices",
    "types": [],
    "form": "plain",
    "ordered": false,
    "status": "active",
    "secret_set": true,
    "read_to": 1204,
    "made_by": "01964f1e-6a00-7000-8000-000000000003",
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
}]})))]
pub struct WebhookPage {
    /// The webhooks of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Webhook>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAtV2xJ0cOZLB")]
    pub next_cursor: Option<String>,
}

/// Which page of the webhooks.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct WebhookFilter {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120)]
    pub cursor: Option<String>,
}
