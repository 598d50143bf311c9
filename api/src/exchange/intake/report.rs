//! What would become of a record, or became of it, as it goes out.

use chrono::{DateTime, Utc};
use sea_orm::{DeriveActiveEnum, EnumIter};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::ToSchema;
use uuid::Uuid;

use super::incoming::{Incoming, Kind};
use super::outcome::{Alike, Candidate, Changed, Counts, Disputed, Outcome, PlannedRow, Waiting};
use super::system::their_id;
use crate::http::BadMember;

/// What becomes of a record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum IntakeOutcome {
    /// An object is made.
    Created,
    /// Our object is changed.
    Changed,
    /// It says what it said before, or what is there.
    Unchanged,
    /// It waits for a person, for what it belongs to, or to be sent again.
    Waiting,
    /// Members that both sides changed wait for a person; others are changed.
    Conflict,
    /// It is not taken.
    Refused,
}

/// What a record waits for.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum IntakeWait {
    /// A person says whether it is one of the candidates, or new; of what was erased here, whether it
    /// may come again.
    #[sea_orm(string_value = "decision")]
    Decision,
    /// A person gives the make-up of the planter.
    #[sea_orm(string_value = "makeup")]
    Makeup,
    /// What it belongs to waits.
    #[sea_orm(string_value = "parent")]
    Parent,
}

/// A member that is changed, for people to read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
#[schema(examples(json!({"member": "name", "from": "North 40", "to": "North forty"})))]
pub struct IntakeChange {
    /// Which.
    #[schema(example = "name")]
    pub member: String,
    /// What was there; absent when nothing was.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "North 40")]
    pub from: Option<String>,
    /// What comes.
    #[schema(example = "North forty")]
    pub to: String,
}

/// A member that both sides changed, for people to read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
#[schema(examples(json!({
    "member": "name", "base": "North 40", "ours": "North forty", "theirs": "N40",
    "conflict_id": "01964f1e-6a00-7000-8000-000000000042"
})))]
pub struct IntakeDispute {
    /// Which.
    #[schema(example = "name")]
    pub member: String,
    /// What was taken last; absent when they never spoke of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "North 40")]
    pub base: Option<String>,
    /// What is there; absent when nothing is.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "North forty")]
    pub ours: Option<String>,
    /// What they say.
    #[schema(example = "N40")]
    pub theirs: String,
    /// Where a person decides: `/v1/record-conflicts/{id}`; absent in what stores nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub conflict_id: Option<Uuid>,
}

/// An object of ours that a new record may be.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
#[schema(examples(json!({
    "object_id": "01964f1e-6a00-7000-8000-000000000004",
    "name": "North Forty", "names": "nearly", "overlap": 0.94
})))]
pub struct IntakeCandidate {
    /// Our object.
    pub object_id: Uuid,
    /// Its name.
    #[schema(example = "North Forty")]
    pub name: String,
    /// How its name compares.
    pub names: Alike,
    /// Area that both boundaries enclose against the area that either does, 0 to 1; absent where one
    /// has no boundary.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.94)]
    pub overlap: Option<f64>,
}

/// What becomes of a record.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
#[schema(examples(json!({
    "place": "/features/3",
    "kind": "field",
    "their_id": "F-12",
    "outcome": "changed",
    "object_id": "01964f1e-6a00-7000-8000-000000000004",
    "changes": [{"member": "name", "from": "North 40", "to": "North forty"}],
    "conflicts": [],
    "candidates": [],
    "refused": []
})))]
pub struct IntakeReport {
    /// Where the record stands: a JSON Pointer, or a line of a file.
    #[schema(example = "/features/3")]
    pub place: String,
    /// What it is about.
    pub kind: Kind,
    /// Their id; absent where the record has none, or none that can be one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "F-12")]
    pub their_id: Option<String>,
    /// What becomes of it.
    pub outcome: IntakeOutcome,
    /// Our object, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub object_id: Option<Uuid>,
    /// What is changed.
    #[schema(max_items = 15)]
    pub changes: Vec<IntakeChange>,
    /// What both sides changed.
    #[schema(max_items = 15)]
    pub conflicts: Vec<IntakeDispute>,
    /// What it waits for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub waits_for: Option<IntakeWait>,
    /// When it was erased here, or what it hangs below was. Nothing that it says is kept, and it is made
    /// again only when a person says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-04-20T12:00:00Z")]
    pub erased_at: Option<DateTime<Utc>>,
    /// What it may be.
    #[schema(max_items = 10)]
    pub candidates: Vec<IntakeCandidate>,
    /// Where a person decides: `/v1/record-matches/{id}`; absent in what stores nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub match_id: Option<Uuid>,
    /// Why it is not taken.
    #[schema(max_items = 100)]
    pub refused: Vec<BadMember>,
}

impl IntakeReport {
    /// Of a planned row.
    pub fn of(row: &PlannedRow) -> Self {
        let PlannedRow { incoming, outcome, object_id, match_id, .. } = row;
        let begun = Self::begin(incoming, IntakeOutcome::of(outcome));
        let mut report = Self { object_id: *object_id, match_id: *match_id, ..begun };
        match outcome {
            Outcome::Create => report.object_id = None,
            Outcome::Unchanged => {}
            Outcome::Change(changes) => report.changes = told(changes),
            Outcome::Conflict { changes, disputed } => {
                report.changes = told(changes);
                report.conflicts = disputed.iter().map(IntakeDispute::of).collect();
            }
            Outcome::Waits(waiting) => report.wait(waiting),
            Outcome::Refused(members) => report.refused.clone_from(members),
        }
        report
    }

    /// Of a record that may come again: it is taken when it is sent next.
    pub(super) fn to_come(incoming: &Incoming) -> Self {
        Self::begin(incoming, IntakeOutcome::Waiting)
    }

    fn begin(incoming: &Incoming, outcome: IntakeOutcome) -> Self {
        Self {
            place: incoming.place.record().to_owned(),
            kind: incoming.kind,
            their_id: incoming.their_id.clone().filter(|id| their_id("", id).is_ok()),
            outcome,
            object_id: None,
            changes: Vec::new(),
            conflicts: Vec::new(),
            waits_for: None,
            erased_at: None,
            candidates: Vec::new(),
            match_id: None,
            refused: Vec::new(),
        }
    }

    /// The same once it is done: what was made has an id now.
    #[must_use]
    pub fn done(mut self, row: &PlannedRow) -> Self {
        if row.outcome == Outcome::Create {
            self.object_id = row.object_id;
        }
        self
    }

    fn wait(&mut self, waiting: &Waiting) {
        self.waits_for = Some(waiting.waits_for());
        self.erased_at = waiting.erased_at();
        self.candidates = waiting.candidates().iter().map(IntakeCandidate::of).collect();
    }
}

impl Waiting {
    /// In the answer.
    pub(super) fn waits_for(&self) -> IntakeWait {
        match self {
            Self::LooksAlike(_) | Self::Erased(_) => IntakeWait::Decision,
            Self::NeedsMakeup(_) => IntakeWait::Makeup,
            Self::ForParent | Self::UnderErased(_) => IntakeWait::Parent,
        }
    }

    /// Objects of ours that it may be.
    pub(super) fn candidates(&self) -> &[Candidate] {
        match self {
            Self::LooksAlike(candidates) | Self::NeedsMakeup(candidates) => candidates,
            Self::ForParent | Self::Erased(_) | Self::UnderErased(_) => &[],
        }
    }

    /// When it was erased, or what it hangs below was.
    pub(super) fn erased_at(&self) -> Option<DateTime<Utc>> {
        match self {
            Self::Erased(at) | Self::UnderErased(at) => Some(*at),
            Self::LooksAlike(_) | Self::NeedsMakeup(_) | Self::ForParent => None,
        }
    }
}

impl IntakeOutcome {
    fn of(outcome: &Outcome) -> Self {
        match outcome {
            Outcome::Create => Self::Created,
            Outcome::Change(_) => Self::Changed,
            Outcome::Unchanged => Self::Unchanged,
            Outcome::Waits(_) => Self::Waiting,
            Outcome::Conflict { .. } => Self::Conflict,
            Outcome::Refused(_) => Self::Refused,
        }
    }
}

impl IntakeDispute {
    fn of(disputed: &Disputed) -> Self {
        let Disputed { member, base, ours, theirs, conflict_id } = disputed;
        Self {
            member: member.word().to_owned(),
            base: in_words(base),
            ours: in_words(ours),
            theirs: in_words(theirs).unwrap_or_default(),
            conflict_id: *conflict_id,
        }
    }
}

impl IntakeCandidate {
    /// Of a candidate.
    pub fn of(candidate: &Candidate) -> Self {
        let Candidate { object_id, name, names, overlap } = candidate;
        Self { object_id: *object_id, name: name.clone(), names: *names, overlap: *overlap }
    }
}

fn told(changes: &[Changed]) -> Vec<IntakeChange> {
    let told = changes.iter().map(|Changed { member, from, to }| IntakeChange {
        member: member.word().to_owned(),
        from: in_words(from),
        to: in_words(to).unwrap_or_default(),
    });
    told.collect()
}

/// A value for people: texts as they are, quantities with their unit, boundaries by their size.
pub fn in_words(value: &Value) -> Option<String> {
    match value {
        Value::Null => None,
        Value::String(text) => Some(text.clone()),
        Value::Object(members) => match (members.get("value"), members.get("unit")) {
            (Some(number), Some(Value::String(unit))) => Some(format!("{number} {unit}")),
            _ => members.get("coordinates").map_or_else(
                || Some(value.to_string()),
                |coordinates| Some(format!("a boundary of {} positions", positions(coordinates))),
            ),
        },
        other => Some(other.to_string()),
    }
}

fn positions(coordinates: &Value) -> usize {
    match coordinates.as_array() {
        Some(list) if list.first().is_some_and(Value::is_number) => 1,
        Some(list) => list.iter().map(positions).sum(),
        None => 0,
    }
}

/// How many records have each outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[schema(examples(json!({
    "created": 12, "changed": 3, "unchanged": 985, "waiting": 2, "conflicts": 1, "refused": 0
})))]
pub struct IntakeCounts {
    /// Made.
    #[schema(minimum = 0, example = 12)]
    pub created: u32,
    /// Changed.
    #[schema(minimum = 0, example = 3)]
    pub changed: u32,
    /// As they were.
    #[schema(minimum = 0, example = 985)]
    pub unchanged: u32,
    /// Waiting for a person.
    #[schema(minimum = 0, example = 2)]
    pub waiting: u32,
    /// Changed on both sides.
    #[schema(minimum = 0, example = 1)]
    pub conflicts: u32,
    /// Not taken.
    #[schema(minimum = 0, example = 0)]
    pub refused: u32,
}

impl From<Counts> for IntakeCounts {
    fn from(counts: Counts) -> Self {
        let Counts { created, changed, unchanged, waiting, conflicts, refused } = counts;
        Self { created, changed, unchanged, waiting, conflicts, refused }
    }
}
