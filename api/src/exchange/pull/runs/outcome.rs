//! What came of a run: counts by kind, and the records that are not as they were.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::exchange::intake::{self, Counts, IntakeReport, Kind, Outcome, Plan, PlannedRow};
use crate::exchange::pull::gather::Gathered;
use crate::http::ApiError;
use crate::v1::records_links::dto::{RecordsCounts, RecordsNote, StoredReport};

/// Most records that are kept.
const MOST_ROWS: usize = 200;
/// Most ids that a note names.
const MOST_NAMED: usize = 10;

/// How many records of a kind are missing.
#[derive(Debug, Clone, Copy)]
pub(super) struct Missing {
    pub kind: Kind,
    pub count: u32,
}

/// Counts by kind, in the order in which they were fetched.
pub(super) fn counts(plan: &Plan, gathered: &[Came], missing: &[Missing]) -> Vec<RecordsCounts> {
    let by_kind: BTreeMap<Kind, Counts> = intake::by_kind(plan);
    let of = |came: &Came| {
        let counts = by_kind.get(&came.kind).copied().unwrap_or_default();
        let Counts { created, changed, unchanged, waiting, conflicts, refused } = counts;
        let missing = missing.iter().find(|missing| missing.kind == came.kind);
        RecordsCounts {
            kind: came.kind,
            not_modified: came.not_modified,
            records: u32::try_from(came.records).unwrap_or(u32::MAX),
            created,
            changed,
            unchanged,
            waiting,
            conflicts,
            refused,
            missing: missing.map_or(0, |missing| missing.count),
        }
    };
    gathered.iter().map(of).collect()
}

/// What is known of a resource once its records have gone into the plan.
#[derive(Debug, Clone, Copy)]
pub(super) struct Came {
    pub kind: Kind,
    pub not_modified: bool,
    pub records: usize,
}

impl Came {
    pub(super) fn of(gathered: &Gathered) -> Self {
        let Gathered { kind, not_modified, records, .. } = gathered;
        Self { kind: *kind, not_modified: *not_modified, records: *records }
    }
}

/// What is kept for people: first what was refused, then what waits, then what was done.
pub(super) fn report(
    plan: &Plan,
    is_done: bool,
    notes: Vec<RecordsNote>,
) -> Result<StoredReport, ApiError> {
    let mut told: Vec<(u8, &PlannedRow)> =
        plan.rows.iter().filter_map(|row| Some((rank(&row.outcome)?, row))).collect();
    told.sort_by_key(|(rank, _)| *rank);
    let left_off = told.len().saturating_sub(MOST_ROWS);
    let rows = told.into_iter().take(MOST_ROWS).map(|(_, row)| {
        let report = IntakeReport::of(row);
        serde_json::to_value(if is_done { report.done(row) } else { report }).map(storable)
    });
    let rows = rows.collect::<Result<Vec<Value>, _>>().map_err(ApiError::internal)?;
    let left_off = u64::try_from(left_off).unwrap_or(u64::MAX);
    Ok(StoredReport { stopped: None, notes, rows, left_off })
}

/// JSON in PostgreSQL holds no NUL, and what a records system sends may: without this its run could not be ended.
fn storable(value: Value) -> Value {
    let text =
        |text: String| if text.contains('\0') { text.replace('\0', "\u{fffd}") } else { text };
    match value {
        Value::String(said) => Value::String(text(said)),
        Value::Array(list) => list.into_iter().map(storable).collect(),
        Value::Object(members) => {
            members.into_iter().map(|(name, value)| (text(name), storable(value))).collect()
        }
        plain => plain,
    }
}

fn rank(outcome: &Outcome) -> Option<u8> {
    match outcome {
        Outcome::Refused(_) => Some(0),
        Outcome::Conflict { .. } => Some(1),
        Outcome::Waits(_) => Some(2),
        Outcome::Change(_) => Some(3),
        Outcome::Create => Some(4),
        Outcome::Unchanged => None,
    }
}

/// Why nothing of a kind is marked as missing although everything was asked for.
pub(super) fn not_whole(kind: Kind) -> RecordsNote {
    let detail = "Records without an id came, so nothing was marked as missing.".to_owned();
    RecordsNote { kind, detail }
}

/// The same where the list was empty.
pub(super) fn empty(kind: Kind) -> RecordsNote {
    let detail = "The list was empty, so nothing was marked as missing.".to_owned();
    RecordsNote { kind, detail }
}

/// Which are missing.
pub(super) fn named(kind: Kind, ids: &[String]) -> RecordsNote {
    let named: Vec<&str> = ids.iter().take(MOST_NAMED).map(String::as_str).collect();
    let more = ids.len().saturating_sub(MOST_NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let detail = format!("Known from before and not among them: {}{more}.", named.join(", "));
    RecordsNote { kind, detail }
}
