//! What goes over the wire.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::gather::Marked;
use super::kinds::{AttentionKind, AttentionObjectKind, Urgency};
use super::names::Names;
use crate::http::{ApiError, BadMember, Refused, text};

/// Longest reason for putting something off, in characters.
const LONGEST_REASON: usize = 500;
/// Longest time for which something can be put off, in days.
const LONGEST_SNOOZE: i64 = 366;

/// Something with its name.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"id": "01964f1e-6a00-7000-8000-000000000002", "name": "Miller Brothers"})))]
pub struct AttentionName {
    /// Its id.
    pub id: Uuid,
    /// Its name.
    #[schema(example = "Miller Brothers")]
    pub name: String,
}

impl AttentionName {
    fn of(id: Option<Uuid>, names: &HashMap<Uuid, String>) -> Option<Self> {
        let id = id?;
        Some(Self { id, name: names.get(&id)?.clone() })
    }
}

/// Why an entry is put off.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "until": "2027-05-07",
    "reason": "The field is under water.",
    "at": "2027-05-03T12:00:00Z",
    "in_force": true
})))]
pub struct AttentionSnooze {
    /// The day on which it counts again.
    pub until: NaiveDate,
    /// Why.
    #[schema(example = "The field is under water.")]
    pub reason: String,
    /// When it was put off.
    pub at: DateTime<Utc>,
    /// Whether it is put off now; not when the day has come, or something new has happened since.
    #[schema(example = true)]
    pub in_force: bool,
}

/// Something that needs somebody.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "key": "dig_overdue.01964f1e-6a00-7000-8000-000000000031",
    "kind": "dig_overdue",
    "urgency": "now",
    "reason": "Planted on 1 May and no dig has come in, 2 days later (limit 24 h after that day).",
    "next_step": "Have the grower dig behind the planter, in the next field if this one is done.",
    "object_kind": "recommendation",
    "object_id": "01964f1e-6a00-7000-8000-000000000031",
    "object_path": "/v1/recommendations/01964f1e-6a00-7000-8000-000000000031",
    "grower": {"id": "01964f1e-6a00-7000-8000-000000000002", "name": "Miller Brothers"},
    "field": {"id": "01964f1e-6a00-7000-8000-000000000005", "name": "North forty"},
    "planter": {"id": "01964f1e-6a00-7000-8000-000000000006", "name": "The eight-row"},
    "advisor": {"id": "01964f1e-6a00-7000-8000-000000000001", "name": "Ann Lee"},
    "since": "2027-05-03T00:00:00Z",
    "due_on": "2027-05-03"
})))]
pub struct AttentionEntry {
    /// Names the entry while it is the same matter: kind and id.
    #[schema(example = "dig_overdue.01964f1e-6a00-7000-8000-000000000031")]
    pub key: String,
    /// What it is.
    pub kind: AttentionKind,
    /// How urgent it is.
    pub urgency: Urgency,
    /// Why, in a sentence.
    #[schema(
        example = "Planted on 1 May and no dig has come in, 2 days later (limit 24 h after that day)."
    )]
    pub reason: String,
    /// What to do.
    #[schema(
        example = "Have the grower dig behind the planter, in the next field if this one is done."
    )]
    pub next_step: String,
    /// What kind of object to look at.
    pub object_kind: AttentionObjectKind,
    /// Id of the object.
    pub object_id: Uuid,
    /// Path of the object.
    #[schema(example = "/v1/recommendations/01964f1e-6a00-7000-8000-000000000031")]
    pub object_path: String,
    /// Whose it is; absent where it is no grower's.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower: Option<AttentionName>,
    /// In which field.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub field: Option<AttentionName>,
    /// With which planter.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub planter: Option<AttentionName>,
    /// Who looks after the grower.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub advisor: Option<AttentionName>,
    /// From when it is on the list.
    pub since: DateTime<Utc>,
    /// By which day it should be done.
    pub due_on: NaiveDate,
    /// Why it is put off, where somebody did so.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub snooze: Option<AttentionSnooze>,
    /// Who looks after it, where somebody was told to.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub assigned_to: Option<AttentionName>,
}

impl AttentionEntry {
    /// As it goes over the wire.
    pub fn of(entry: Marked, names: &Names) -> Self {
        let key = entry.found.key();
        let Marked { found, mark, snoozed } = entry;
        let (object_kind, object_id) = found.object;
        let grower = found.grower_id.and_then(|id| Some((id, names.growers.get(&id)?)));
        let snooze = mark.as_ref().and_then(|mark| {
            Some(AttentionSnooze {
                until: mark.snoozed_until?,
                reason: mark.snooze_reason.clone().unwrap_or_default(),
                at: mark.snoozed_at?,
                in_force: snoozed,
            })
        });
        let advisor = grower.and_then(|(_, (_, advisor))| *advisor);
        Self {
            key,
            kind: found.kind,
            urgency: found.urgency,
            reason: found.reason,
            next_step: found.next.to_owned(),
            object_kind,
            object_id,
            object_path: format!("/v1/{}/{object_id}", object_kind.collection()),
            grower: grower.map(|(id, (name, _))| AttentionName { id, name: name.clone() }),
            field: AttentionName::of(found.field_id, &names.fields),
            planter: AttentionName::of(found.planter_id, &names.planters),
            advisor: AttentionName::of(advisor, &names.accounts),
            since: found.from,
            due_on: found.due,
            snooze,
            assigned_to: AttentionName::of(mark.and_then(|mark| mark.assigned_to), &names.accounts),
        }
    }
}

/// How many entries the whole list has.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"now": 2, "soon": 5, "when_you_can": 11})))]
pub struct AttentionCounts {
    /// Those that need somebody now.
    #[schema(minimum = 0, example = 2)]
    pub now: u64,
    /// Those that need somebody soon.
    #[schema(minimum = 0, example = 5)]
    pub soon: u64,
    /// Those that can wait.
    #[schema(minimum = 0, example = 11)]
    pub when_you_can: u64,
}

impl AttentionCounts {
    /// Of a list.
    pub(super) fn of(list: &[Marked]) -> Self {
        let count = |urgency: Urgency| {
            let those = list.iter().filter(|entry| entry.found.urgency == urgency).count();
            u64::try_from(those).unwrap_or(u64::MAX)
        };
        Self {
            now: count(Urgency::Now),
            soon: count(Urgency::Soon),
            when_you_can: count(Urgency::WhenYouCan),
        }
    }
}

/// A page of the attention list.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "key": "calibration_missing.01964f1e-6a00-7000-8000-000000000006",
        "kind": "calibration_missing",
        "urgency": "soon",
        "reason": "Nobody has measured what force the air in its bags gives; 1 sheet rests on this planter.",
        "next_step": "Measure force against pressure at two points on one row.",
        "object_kind": "planter",
        "object_id": "01964f1e-6a00-7000-8000-000000000006",
        "object_path": "/v1/planters/01964f1e-6a00-7000-8000-000000000006",
        "grower": {"id": "01964f1e-6a00-7000-8000-000000000002", "name": "Miller Brothers"},
        "planter": {"id": "01964f1e-6a00-7000-8000-000000000006", "name": "The eight-row"},
        "since": "2027-05-03T12:00:00Z",
        "due_on": "2027-05-04"
    }],
    "counts": {"now": 0, "soon": 1, "when_you_can": 0}
})))]
pub struct AttentionPage {
    /// The entries, the most urgent first, and of those the longest due.
    #[schema(max_items = 200)]
    pub items: Vec<AttentionEntry>,
    /// How many entries the whole list has.
    pub counts: AttentionCounts,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "MC4yMDI3LTA1LTAzLmRpZ19vdmVyZHVlLjAxOTY0ZjFl")]
    pub next_cursor: Option<String>,
}

/// Which entries.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct AttentionFilter {
    /// Only of the growers of this advisor.
    #[serde(default)]
    #[param(nullable = false)]
    pub advisor_id: Option<Uuid>,
    /// Only of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Only of this kind.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub kind: Option<AttentionKind>,
    /// Only yours: assigned to you, or assigned to nobody and of growers you look after.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub mine: Option<bool>,
    /// Those too that are put off.
    #[serde(default)]
    #[param(nullable = false, example = false)]
    pub include_snoozed: Option<bool>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}

/// Puts an entry off.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"until": "2027-05-07", "reason": "The field is under water."})))]
pub struct SnoozeIn {
    /// The day on which it counts again: after today, a year from now at most.
    pub until: NaiveDate,
    /// Why, in a line.
    #[schema(
        min_length = 1,
        max_length = 500,
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$",
        example = "The field is under water."
    )]
    pub reason: String,
}

impl SnoozeIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self, today: NaiveDate) -> Result<(NaiveDate, String), ApiError> {
        let mut refused = Refused::default();
        let until = refused.take(until(self.until, today));
        let reason = refused.take(text::line("/reason", &self.reason, LONGEST_REASON));
        match (until, reason) {
            (Some(until), Some(reason)) => Ok((until, reason)),
            _ => Err(refused.into()),
        }
    }
}

fn until(given: NaiveDate, today: NaiveDate) -> Result<NaiveDate, BadMember> {
    if (1..=LONGEST_SNOOZE).contains(&(given - today).num_days()) {
        return Ok(given);
    }
    Err(BadMember::new("/until", "The day is not after today, or too far away.")
        .given(given)
        .allowed(format!("after {today}, at most {LONGEST_SNOOZE} days from then"))
        .why("what is put off comes back"))
}

/// Who looks after an entry.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"account_id": "01964f1e-6a00-7000-8000-000000000001"})))]
pub struct AssignIn {
    /// The account of a lead or an advisor who sees the grower.
    pub account_id: Uuid,
}
