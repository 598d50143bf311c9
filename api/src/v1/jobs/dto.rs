//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::entities::jobs::{Kind, Model, Status};

/// Work of the service.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000071",
    "kind": "sheet_ready",
    "status": "dead",
    "grower_id": "01964f1e-6a00-7000-8000-000000000002",
    "attempts": 1,
    "last_error": "The mail server refuses the mail (550).",
    "created_at": "2027-04-20T12:00:00Z",
    "finished_at": "2027-04-20T12:00:02Z"
})))]
pub struct Job {
    /// Id of the job.
    pub id: Uuid,
    /// What is to be done.
    pub kind: Kind,
    /// Where it stands.
    pub status: Status,
    /// The grower that it is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// When it is tried next; absent once it is done or dead.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub next_try_at: Option<DateTime<Utc>>,
    /// How often it was tried.
    #[schema(minimum = 0, maximum = 10, example = 1)]
    pub attempts: i32,
    /// Why it was not done the last time.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "The mail server refuses the mail (550).")]
    pub last_error: Option<String>,
    /// When it was made.
    pub created_at: DateTime<Utc>,
    /// When it was done, or given up.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub finished_at: Option<DateTime<Utc>>,
}

impl From<Model> for Job {
    fn from(row: Model) -> Self {
        let Model {
            practice_id: _,
            id,
            kind,
            payload: _,
            grower_id,
            once_key: _,
            status,
            run_at,
            attempts,
            lease: _,
            last_error,
            created_at,
            finished_at,
        } = row;
        let next_try_at = (status == Status::Waiting).then_some(run_at);
        Self {
            id,
            kind,
            status,
            grower_id,
            next_try_at,
            attempts,
            last_error,
            created_at,
            finished_at,
        }
    }
}

/// A page of jobs.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "id": "01964f1e-6a00-7000-8000-000000000071",
    "kind": "sheet_ready",
    "status": "waiting",
    "next_try_at": "2027-04-20T12:01:00Z",
    "attempts": 1,
    "last_error": "The mail server can't be reached.",
    "created_at": "2027-04-20T12:00:00Z"
}]})))]
pub struct JobPage {
    /// The jobs of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Job>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAtV2xJ0cOZLB")]
    pub next_cursor: Option<String>,
}

/// Which jobs.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct JobFilter {
    /// Only of this status; what is done is kept for a week.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub status: Option<Status>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
