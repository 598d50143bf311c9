//! What a person decides: which object of ours a record is, and which side of a conflict holds.

mod conflict;
mod erased;
mod matched;
mod tied;

pub use conflict::decide_conflict;
pub use matched::decide_match;

use std::sync::Arc;

use super::columns::{Columns, Member, Place};
use super::incoming::{Incoming, Said};
use super::outcome::{Counts, Outcome, PlannedRow, Waiting};
use super::report::IntakeReport;
use crate::entities::record_matches;
use crate::http::{ApiError, BadMember, ProblemCode};
use crate::v1::planters::Makeup;
use uuid::Uuid;

/// What a person says of a record that waits.
#[derive(Debug, Clone, PartialEq)]
pub enum Decision {
    /// It is this object of ours.
    Same(Uuid),
    /// It is new; a planter comes with its make-up.
    New(Option<Box<Makeup>>),
}

/// Which side of a conflict holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// What is here.
    Ours,
    /// What they say.
    Theirs,
}

/// What came of a decision.
#[derive(Debug)]
pub struct Decided {
    /// What became of the record that was decided.
    pub record: IntakeReport,
    /// The grower whose it is, where that is known.
    pub grower_id: Option<Uuid>,
    /// What became of the records that waited for it.
    pub followed: Counts,
}

/// Why a record was not taken although a person said so.
fn not_done(row: &PlannedRow) -> Option<ApiError> {
    match &row.outcome {
        Outcome::Refused(members) => Some(members.clone().into()),
        Outcome::Waits(Waiting::NeedsMakeup(_)) => {
            let member = BadMember::new("/makeup", "A new planter needs its make-up.");
            Some(member.why("records systems don't say what Dibble works with").into())
        }
        Outcome::Waits(_) => {
            let detail =
                "What the record belongs to waits for a decision itself. Decide that first.";
            Some(ApiError::new(ProblemCode::WrongState, detail))
        }
        Outcome::Create | Outcome::Change(_) | Outcome::Unchanged | Outcome::Conflict { .. } => {
            None
        }
    }
}

/// A record that waits, as it came.
fn incoming(waiting: &record_matches::Model) -> Result<Incoming, ApiError> {
    let said: Said = serde_json::from_value(waiting.record.clone()).map_err(ApiError::internal)?;
    let mut record = Incoming::new(waiting.kind, place());
    record.their_id = Some(waiting.their_id.clone());
    record.their_version.clone_from(&waiting.their_version);
    record.updated_at = waiting.their_updated_at;
    record.said = said;
    Ok(record)
}

/// Where the members of a record that waits stand in its answer.
fn place() -> Place {
    let members = Member::COMPARED.iter().chain(&[Member::Id, Member::Parent]);
    let columns = members.map(|member| (*member, format!("/{}", member.word())));
    Place::new("/record", &Arc::new(columns.collect::<Columns>()))
}
