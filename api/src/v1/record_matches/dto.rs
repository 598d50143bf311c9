//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::entities::record_matches;
use crate::exchange::intake::{
    Candidate, Decision, IntakeCandidate, IntakeCounts, IntakeReport, IntakeWait, Kind, in_words,
};
use crate::http::page::Total;
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused};
use crate::v1::planters::Makeup;

/// A member of a record, for people to read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
#[schema(examples(json!({"member": "name", "value": "North forty"})))]
pub struct SaidMember {
    /// Which.
    #[schema(example = "name")]
    pub member: String,
    /// What it says.
    #[schema(example = "North forty")]
    pub value: String,
}

/// A record that waits until a person says what it is.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000041",
    "system": "records",
    "kind": "field",
    "their_id": "F-12",
    "waits_for": "decision",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "says": [{"member": "name", "value": "North forty"}],
    "candidates": [{
        "object_id": "01964f1e-6a00-7000-8000-000000000004",
        "name": "North Forty", "names": "nearly", "overlap": 0.94
    }],
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct RecordMatch {
    /// Id under which it waits.
    pub id: Uuid,
    /// The records system.
    #[schema(example = "records")]
    pub system: String,
    /// What it is about.
    pub kind: Kind,
    /// Their id.
    #[schema(example = "F-12")]
    pub their_id: String,
    /// What it waits for.
    pub waits_for: IntakeWait,
    /// The grower whose it would be, or who it may be; absent where nobody knows.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// When it was erased here, or what it hangs below was. Nothing that it says is kept, and it is made
    /// again only when a person says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-04-20T12:00:00Z")]
    pub erased_at: Option<DateTime<Utc>>,
    /// What it says, for people to read.
    #[schema(max_items = 20)]
    pub says: Vec<SaidMember>,
    /// Objects of ours that it may be, the likeliest first.
    #[schema(max_items = 10)]
    pub candidates: Vec<IntakeCandidate>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When it came first.
    pub created_at: DateTime<Utc>,
    /// When it was last changed.
    pub updated_at: DateTime<Utc>,
}

impl RecordMatch {
    /// A row as it goes out.
    pub fn show(row: record_matches::Model) -> Result<Self, ApiError> {
        let record_matches::Model {
            practice_id: _,
            id,
            system,
            kind,
            their_id,
            their_version: _,
            their_updated_at: _,
            waits_for,
            grower_id,
            record,
            candidates,
            version,
            created_at,
            updated_at,
            erased_at,
        } = row;
        let candidates: Vec<Candidate> =
            serde_json::from_value(candidates).map_err(ApiError::internal)?;
        Ok(Self {
            id,
            system,
            kind,
            their_id,
            waits_for,
            grower_id,
            erased_at,
            says: said(&record),
            candidates: candidates.iter().map(IntakeCandidate::of).collect(),
            version,
            created_at,
            updated_at,
        })
    }
}

/// The members of a record; what it belongs to by the id or name it gives.
fn said(record: &Value) -> Vec<SaidMember> {
    let members = record.as_object().into_iter().flatten();
    let told = members.filter_map(|(member, value)| {
        let value = match (member.as_str(), value) {
            ("parent", Value::Object(named)) => named.values().next()?,
            _ => value,
        };
        Some(SaidMember { member: member.clone(), value: in_words(value)? })
    });
    told.collect()
}

/// A page of records that wait.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct RecordMatchPage {
    /// The records of this page, those that came first first.
    #[schema(max_items = 200)]
    pub items: Vec<RecordMatch>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which records that wait.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct RecordMatchFilter {
    /// Only of this records system.
    #[serde(default)]
    #[param(
        nullable = false,
        pattern = "^[a-z][a-z0-9-]{1,39}$",
        min_length = 2,
        max_length = 40,
        example = "records"
    )]
    pub system: Option<String>,
    /// Only of this kind.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub kind: Option<Kind>,
    /// Only those that wait for this. Those that wait for their parent need nobody.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub waits_for: Option<IntakeWait>,
    /// Only those that would be this grower's, or may be him.
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
    /// Whether to count the rows that the filters let through.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub count: Option<bool>,
}

/// What a record is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum WhatItIs {
    /// An object that is here.
    Same,
    /// Something new.
    New,
}

/// What a person says of a record that waits.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(
    json!({"decision": "same", "object_id": "01964f1e-6a00-7000-8000-000000000004"})
))]
pub struct MatchDecisionIn {
    /// What it is.
    pub decision: WhatItIs,
    /// Our object that it is, with `same`: one of the candidates or another of the same kind.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub object_id: Option<Uuid>,
    /// The make-up of a planter that is new, unless the record has one.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub makeup: Option<Makeup>,
}

impl MatchDecisionIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<Decision, ApiError> {
        let Self { decision, object_id, makeup } = self;
        let mut refused = Refused::default();
        match decision {
            WhatItIs::Same if makeup.is_some() => {
                let detail = "A planter that is here has its make-up.";
                refused.add(BadMember::new("/makeup", detail));
            }
            WhatItIs::New if object_id.is_some() => {
                let detail = "What is new is none of our objects.";
                refused.add(BadMember::new("/object_id", detail));
            }
            WhatItIs::Same if object_id.is_none() => {
                refused.add(BadMember::new("/object_id", "Say which of our objects it is."));
            }
            WhatItIs::Same | WhatItIs::New => {}
        }
        if let Some(makeup) = &makeup {
            refused.take_all(makeup.parse("/makeup", None));
        }
        refused.finish()?;
        Ok(match object_id {
            Some(object_id) => Decision::Same(object_id),
            None => Decision::New(makeup.map(Box::new)),
        })
    }
}

/// What came of a decision. Of a record that was erased here `followed` counts those that waited below
/// it, as `waiting`: they come when they are sent again.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "record": {
        "place": "/record", "kind": "field", "their_id": "F-12", "outcome": "changed",
        "object_id": "01964f1e-6a00-7000-8000-000000000004",
        "changes": [{"member": "name", "from": "North 40", "to": "North forty"}],
        "conflicts": [], "candidates": [], "refused": []
    },
    "followed": {
        "created": 2, "changed": 0, "unchanged": 0, "waiting": 0, "conflicts": 0, "refused": 0
    }
})))]
pub struct MatchDecision {
    /// What became of the record.
    pub record: IntakeReport,
    /// What became of records that waited for it.
    pub followed: IntakeCounts,
}
