//! A run: what was fetched, and what came of it.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::entities::records_runs::{self, Mode, Status};
use crate::exchange::intake::{IntakeReport, Kind};
use crate::exchange::pull::stop::StopCode;
use crate::http::ApiError;

/// A run that is asked for.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"mode": "preview"})))]
pub struct RecordsRunIn {
    /// Whether the records are taken, or only what would become of each is said.
    pub mode: Mode,
    /// Whether also what did not change since the last run is fetched; what is missing is seen then. A preview
    /// always fetches everything.
    #[serde(default)]
    #[schema(default = false, example = false)]
    pub everything: bool,
}

/// How many records of one kind came, and what became of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "kind": "field", "not_modified": false, "records": 980, "created": 12, "changed": 3, "unchanged": 961,
    "waiting": 2, "conflicts": 1, "refused": 1, "missing": 0
})))]
pub struct RecordsCounts {
    /// What they are.
    pub kind: Kind,
    /// Whether no page was another than in the last run: then nothing else was looked at.
    #[schema(example = false)]
    pub not_modified: bool,
    /// Records that came.
    #[schema(minimum = 0, example = 980)]
    pub records: u32,
    /// Made.
    #[schema(minimum = 0, example = 12)]
    pub created: u32,
    /// Changed.
    #[schema(minimum = 0, example = 3)]
    pub changed: u32,
    /// As they were.
    #[schema(minimum = 0, example = 961)]
    pub unchanged: u32,
    /// Waiting for a person.
    #[schema(minimum = 0, example = 2)]
    pub waiting: u32,
    /// Changed on both sides.
    #[schema(minimum = 0, example = 1)]
    pub conflicts: u32,
    /// Not taken.
    #[schema(minimum = 0, example = 1)]
    pub refused: u32,
    /// Known from before and not among them; marked, never deleted.
    #[schema(minimum = 0, example = 0)]
    pub missing: u32,
}

/// A run over a connection to a records system.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000082",
    "link_id": "01964f1e-6a00-7000-8000-000000000081",
    "mode": "apply", "everything": false, "status": "running",
    "asked_by": "01964f1e-6a00-7000-8000-000000000001",
    "created_at": "2027-04-20T12:00:00Z", "started_at": "2027-04-20T12:00:01Z",
    "pages": 3, "records": 600, "counts": []
})))]
pub struct RecordsRun {
    /// Id of the run.
    pub id: Uuid,
    /// The link.
    pub link_id: Uuid,
    /// Whether the records are taken, or only what would become of each is said.
    pub mode: Mode,
    /// Whether also what did not change since the last run is fetched.
    #[schema(example = false)]
    pub everything: bool,
    /// Where it stands.
    pub status: Status,
    /// Account that asked for it, or that made the link where nobody did.
    pub asked_by: Uuid,
    /// When it was asked for.
    pub created_at: DateTime<Utc>,
    /// When it began.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub started_at: Option<DateTime<Utc>>,
    /// When it ended.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub finished_at: Option<DateTime<Utc>>,
    /// Pages that came so far.
    #[schema(minimum = 0, example = 3)]
    pub pages: i32,
    /// Records that came so far.
    #[schema(minimum = 0, example = 600)]
    pub records: i32,
    /// What became of the records, by kind; empty until it is done.
    #[schema(max_items = 5)]
    pub counts: Vec<RecordsCounts>,
}

/// Why a run ended before its end. Nothing was taken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "code": "page_repeats", "kind": "field", "page": 3,
    "detail": "The next page is one that came before: the pages lead in a circle."
})))]
pub struct RecordsStop {
    /// Why, in a word; more words may come.
    pub code: StopCode,
    /// What was being fetched.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub kind: Option<Kind>,
    /// Which page of it, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, example = 3)]
    pub page: Option<u32>,
    /// Why, for people.
    #[schema(example = "The next page is one that came before: the pages lead in a circle.")]
    pub detail: String,
}

/// Something about the records of one kind that somebody should know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "kind": "field", "detail": "The list was empty, so nothing was marked as missing."
})))]
pub struct RecordsNote {
    /// What the records are.
    pub kind: Kind,
    /// What is to be known.
    #[schema(example = "The list was empty, so nothing was marked as missing.")]
    pub detail: String,
}

/// What is kept of a run for people: why it ended, what to know, and the records that are not as they were.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct StoredReport {
    /// Why it ended before its end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stopped: Option<RecordsStop>,
    /// What is to be known.
    #[serde(default)]
    pub notes: Vec<RecordsNote>,
    /// What became of records that are not as they were, first of all what needs somebody.
    #[serde(default)]
    pub rows: Vec<Value>,
    /// How many more there are.
    #[serde(default)]
    pub left_off: u64,
}

/// A run, with what became of the records.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "run": {
        "id": "01964f1e-6a00-7000-8000-000000000082",
        "link_id": "01964f1e-6a00-7000-8000-000000000081",
        "mode": "apply", "everything": false, "status": "failed",
        "asked_by": "01964f1e-6a00-7000-8000-000000000001",
        "created_at": "2027-04-20T12:00:00Z", "started_at": "2027-04-20T12:00:01Z",
        "finished_at": "2027-04-20T12:00:09Z", "pages": 3, "records": 600, "counts": []
    },
    "stopped": {"code": "page_repeats", "kind": "field", "page": 3, "detail": "The same page came twice."},
    "notes": [], "rows": [], "left_off": 0
})))]
pub struct RecordsRunDetail {
    /// The run.
    pub run: RecordsRun,
    /// Why it ended before its end; nothing was taken then.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stopped: Option<RecordsStop>,
    /// What is to be known.
    #[schema(max_items = 20)]
    pub notes: Vec<RecordsNote>,
    /// What became of records that are not as they were: first what was refused, then what waits for a person,
    /// then the others. At most 200; they are kept until a grower is erased, or 30 days.
    #[schema(value_type = Vec<IntakeReport>, max_items = 200)]
    pub rows: Vec<Value>,
    /// How many more such records there are.
    #[schema(minimum = 0, example = 0)]
    pub left_off: u64,
}

impl RecordsRun {
    /// A row as it goes out.
    pub fn show(row: &records_runs::Model) -> Result<Self, ApiError> {
        let counts = row.counts.clone().map(serde_json::from_value).transpose();
        Ok(Self {
            id: row.id,
            link_id: row.link_id,
            mode: row.mode,
            everything: row.everything,
            status: row.status,
            asked_by: row.asked_by,
            created_at: row.created_at,
            started_at: row.started_at,
            finished_at: row.finished_at,
            pages: row.pages,
            records: row.records,
            counts: counts.map_err(ApiError::internal)?.unwrap_or_default(),
        })
    }
}

impl RecordsRunDetail {
    /// A row as it goes out, with all that is kept of it.
    pub fn show(row: &records_runs::Model) -> Result<Self, ApiError> {
        let report = row.report.clone().map(serde_json::from_value).transpose();
        let report: StoredReport = report.map_err(ApiError::internal)?.unwrap_or_default();
        let StoredReport { stopped, notes, rows, left_off } = report;
        Ok(Self { run: RecordsRun::show(row)?, stopped, notes, rows, left_off })
    }
}

/// A page of runs.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct RecordsRunPage {
    /// The runs of this page.
    #[schema(max_items = 200)]
    pub items: Vec<RecordsRun>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which runs.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct RecordsRunFilter {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120)]
    pub cursor: Option<String>,
}
