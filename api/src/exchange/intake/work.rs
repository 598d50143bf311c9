//! What is found out about a record on the way to its outcome.

use domain::quantity::Area;
use geo::MultiPolygon;
use serde_json::{Map, Value};
use uuid::Uuid;

use super::columns::Member;
use super::incoming::Incoming;
use super::outcome::{Outcome, PlannedRow};
use crate::http::BadMember;
use crate::v1::planters::Makeup;

/// Members with their values, by their names in answers.
pub(super) type Members = Map<String, Value>;

/// What is found out about a record on the way to its outcome.
#[derive(Debug, Default)]
pub(super) struct Work {
    /// Whether the outcome is still to be found.
    pub open: bool,
    /// SHA-256 over what it says.
    pub hash: String,
    /// What it says in the members of its kind, cleaned.
    pub theirs: Members,
    /// Our object, if the record came before.
    pub tie: Option<Tie>,
    /// What it belongs to.
    pub parent: Option<Ref>,
    /// The grower of that.
    pub grower: Option<Ref>,
    /// The land inside its boundary.
    pub land: Option<Land>,
    /// The make-up of a planter as it would be.
    pub makeup: Option<Makeup>,
    /// Conflicts that are none any more.
    pub settled: Vec<Uuid>,
    /// It says the same as a record before it.
    pub repeats: bool,
}

/// An object that is there, or will be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Ref {
    /// It is there.
    Is(Uuid),
    /// It is made from this row.
    Row(usize),
}

impl Ref {
    /// The object, if it is there.
    pub(super) fn id(self) -> Option<Uuid> {
        match self {
            Self::Is(id) => Some(id),
            Self::Row(_) => None,
        }
    }
}

/// The land inside a boundary.
#[derive(Debug, Clone)]
pub(super) struct Land {
    /// In degrees.
    pub shape: MultiPolygon,
    /// On the ellipsoid.
    pub area: Area,
}

/// A record that came before, and our object.
#[derive(Debug, Clone)]
pub(super) struct Tie {
    pub id: Uuid,
    pub object_id: Uuid,
    pub grower_id: Option<Uuid>,
    pub hash: String,
    pub their_version: Option<String>,
    /// What they said last; read where it is needed.
    pub taken: Members,
    /// Our object; read where it is needed.
    pub ours: Option<Ours>,
}

/// Our object as it is.
#[derive(Debug, Clone)]
pub(super) struct Ours {
    pub version: i32,
    pub parent_id: Option<Uuid>,
    pub members: Members,
    pub name: Option<String>,
    pub makeup: Option<Makeup>,
    pub area_m2: Option<f64>,
}

impl PlannedRow {
    /// A record of which nothing is known yet.
    pub(super) fn begin(incoming: Incoming, hash: String) -> Self {
        Self {
            incoming,
            outcome: Outcome::Unchanged,
            object_id: None,
            grower_id: None,
            match_id: None,
            work: Work { open: true, hash, ..Work::default() },
        }
    }

    /// The outcome is found.
    pub(super) fn settle(&mut self, outcome: Outcome) {
        self.outcome = outcome;
        self.work.open = false;
    }

    /// The record is not taken.
    pub(super) fn refuse(&mut self, members: Vec<BadMember>) {
        self.settle(Outcome::Refused(members));
    }

    /// A refusal of one member.
    pub(super) fn refuse_member(&mut self, member: Member, detail: impl Into<String>) {
        let place = self.incoming.place.of(member);
        self.refuse(vec![BadMember::new(place, detail)]);
    }

    /// Our object as it is, where the record is tied to one.
    pub(super) fn ours(&self) -> Option<&Ours> {
        self.work.tie.as_ref().and_then(|tie| tie.ours.as_ref())
    }

    /// The name that our object would have, where the record gives it one.
    pub(super) fn new_name(&self) -> Option<&str> {
        let renames = match &self.outcome {
            Outcome::Create => true,
            Outcome::Change(changes) | Outcome::Conflict { changes, .. } => {
                changes.iter().any(|change| change.member == Member::Name)
            }
            Outcome::Unchanged | Outcome::Waits(_) | Outcome::Refused(_) => false,
        };
        self.incoming.said.name.as_deref().filter(|_| renames)
    }
}
