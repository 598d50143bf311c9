//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::exchange::intake::{IntakeReport, Keep, Kind};
use crate::http::page::Total;
use crate::v1::fields::Boundary;

/// A member that both sides changed since it was taken last.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000042",
    "system": "records",
    "kind": "field",
    "their_id": "F-12",
    "object_id": "01964f1e-6a00-7000-8000-000000000004",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "member": "name",
    "base": "North 40",
    "ours": "North forty",
    "theirs": "N40",
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct RecordConflict {
    /// Id of the conflict.
    pub id: Uuid,
    /// The records system.
    #[schema(example = "records")]
    pub system: String,
    /// What it is about.
    pub kind: Kind,
    /// Their id.
    #[schema(example = "F-12")]
    pub their_id: String,
    /// Our object.
    pub object_id: Uuid,
    /// The grower whose it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// The member.
    #[schema(example = "name")]
    pub member: String,
    /// What was taken last, for people to read; absent when they never spoke of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "North 40")]
    pub base: Option<String>,
    /// What is here now, for people to read; absent when nothing is.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "North forty")]
    pub ours: Option<String>,
    /// What they say, for people to read.
    #[schema(example = "N40")]
    pub theirs: String,
    /// The boundary that they say, to be drawn beside that of the field; of boundaries only.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub their_boundary: Option<Boundary>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When it was noticed.
    pub created_at: DateTime<Utc>,
    /// When they last said something else.
    pub updated_at: DateTime<Utc>,
}

/// A page of conflicts.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct RecordConflictPage {
    /// The conflicts of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<RecordConflict>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which conflicts.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct RecordConflictFilter {
    /// Only of this grower and all that is his.
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

/// Which side holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// What is here.
    Ours,
    /// What they say.
    Theirs,
}

impl From<Side> for Keep {
    fn from(side: Side) -> Self {
        match side {
            Side::Ours => Self::Ours,
            Side::Theirs => Self::Theirs,
        }
    }
}

/// Which side of a conflict holds.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"keep": "theirs"})))]
pub struct ConflictDecisionIn {
    /// Which.
    pub keep: Side,
}

/// What came of a decision.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"kept": "ours"})))]
pub struct ConflictDecision {
    /// The side that holds.
    pub kept: Side,
    /// What became of our object; absent where nothing had to be changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub record: Option<IntakeReport>,
}
