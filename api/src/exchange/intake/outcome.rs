//! What would become of each record.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::ToSchema;
use uuid::Uuid;

use super::columns::Member;
use super::incoming::{Incoming, Kind};
use super::system::System;
use super::work::Work;
use crate::http::BadMember;

/// What is done with a new record that looks like an object of ours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Beside {
    /// It waits for a person.
    #[default]
    Waits,
    /// It is made beside the other.
    Creates,
}

/// Whose records come, when, and what is done with look-alikes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The records system.
    pub system: System,
    /// The day in the practice's calendar: nothing was harvested after it.
    pub today: NaiveDate,
    /// What is done with a new record that looks like an object of ours.
    pub beside: Beside,
}

/// What would become of all records, in the order in which they came.
#[derive(Debug)]
pub struct Plan {
    /// The records system.
    pub system: System,
    /// One row for each record that came.
    pub rows: Vec<PlannedRow>,
    /// How many growers had been erased when it was made.
    pub(super) erasures: u64,
}

impl Plan {
    /// How many rows have each outcome.
    pub fn counts(&self) -> Counts {
        let mut counts = Counts::default();
        for row in &self.rows {
            counts.add(&row.outcome);
        }
        counts
    }
}

/// What would become of a record.
#[derive(Debug)]
pub struct PlannedRow {
    /// The record.
    pub incoming: Incoming,
    /// What would become of it.
    pub outcome: Outcome,
    /// Our object, where there is one; of what is to be made once it is.
    pub object_id: Option<Uuid>,
    /// The grower whose object it is, where that is known.
    pub grower_id: Option<Uuid>,
    /// What a person decides it under, once it waits in the database.
    pub match_id: Option<Uuid>,
    /// What was found out on the way.
    pub(super) work: Work,
}

/// What would become of a record.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// An object would be made.
    Create,
    /// Our object would be changed.
    Change(Vec<Changed>),
    /// Nothing is to be done: it says what it said before, or what is there.
    Unchanged,
    /// It waits for a person.
    Waits(Waiting),
    /// Some members were changed on both sides and wait for a person; the others would be changed.
    Conflict {
        /// What would be changed.
        changes: Vec<Changed>,
        /// What waits.
        disputed: Vec<Disputed>,
    },
    /// It is not taken, for all these reasons.
    Refused(Vec<BadMember>),
}

/// A member that would be changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// Which.
    pub member: Member,
    /// What is there; `Null` when nothing is.
    pub from: Value,
    /// What would be there.
    pub to: Value,
}

/// A member that both sides changed since it was taken last.
#[derive(Debug, Clone, PartialEq)]
pub struct Disputed {
    /// Which.
    pub member: Member,
    /// What was taken last; `Null` when they never spoke of it.
    pub base: Value,
    /// What is there.
    pub ours: Value,
    /// What they say.
    pub theirs: Value,
    /// What a person decides it under, once it waits in the database.
    pub conflict_id: Option<Uuid>,
}

/// What a record waits for.
#[derive(Debug, Clone, PartialEq)]
pub enum Waiting {
    /// It looks like these: a person says that it is one of them, or new.
    LooksAlike(Vec<Candidate>),
    /// A planter needs more than records systems say: a person gives its make-up, or says that it is
    /// one of these.
    NeedsMakeup(Vec<Candidate>),
    /// What it belongs to waits.
    ForParent,
    /// It was erased here at that time: a person says that it may come again. Nothing it says is kept.
    Erased(DateTime<Utc>),
    /// What it belongs to was erased here at that time, or hangs below what was. Nothing it says is
    /// kept.
    UnderErased(DateTime<Utc>),
}

/// An object of ours that a new record may be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Candidate {
    /// Our object.
    pub object_id: Uuid,
    /// Its name.
    pub name: String,
    /// How its name compares.
    pub names: Alike,
    /// Area that both boundaries enclose against the area that either does, 0 to 1; `None` where one
    /// has no boundary.
    pub overlap: Option<f64>,
}

/// How names compare.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = NamesCompare)]
pub enum Alike {
    /// Letter by letter the same.
    Same,
    /// The same but for capitals, spaces and punctuation.
    Nearly,
    /// Others.
    Different,
}

/// How many rows have each outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Would be made.
    pub created: u32,
    /// Would be changed.
    pub changed: u32,
    /// Stay.
    pub unchanged: u32,
    /// Wait for a person.
    pub waiting: u32,
    /// Were changed on both sides.
    pub conflicts: u32,
    /// Are not taken.
    pub refused: u32,
}

impl Counts {
    /// Counts one more.
    pub fn add(&mut self, outcome: &Outcome) {
        let count = match outcome {
            Outcome::Create => &mut self.created,
            Outcome::Change(_) => &mut self.changed,
            Outcome::Unchanged => &mut self.unchanged,
            Outcome::Waits(_) => &mut self.waiting,
            Outcome::Conflict { .. } => &mut self.conflicts,
            Outcome::Refused(_) => &mut self.refused,
        };
        *count = count.saturating_add(1);
    }

    /// The sum of two.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            created: self.created.saturating_add(other.created),
            changed: self.changed.saturating_add(other.changed),
            unchanged: self.unchanged.saturating_add(other.unchanged),
            waiting: self.waiting.saturating_add(other.waiting),
            conflicts: self.conflicts.saturating_add(other.conflicts),
            refused: self.refused.saturating_add(other.refused),
        }
    }
}

/// How many rows of each kind have each outcome.
pub fn by_kind(plan: &Plan) -> BTreeMap<Kind, Counts> {
    let mut counts: BTreeMap<Kind, Counts> = BTreeMap::new();
    for row in &plan.rows {
        counts.entry(row.incoming.kind).or_default().add(&row.outcome);
    }
    counts
}
