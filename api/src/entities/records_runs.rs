//! Rows of `records_runs`. What was fetched over a connection to a records system, and what came of it.

use sea_orm::entity::prelude::*;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What a run does with what it fetched.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(as = RecordsRunMode, example = "preview")]
pub enum Mode {
    /// It says what would become of each record, and changes nothing.
    #[sea_orm(string_value = "preview")]
    Preview,
    /// It takes the records.
    #[sea_orm(string_value = "apply")]
    Apply,
}

/// Where a run stands.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(as = RecordsRunStatus, example = "done")]
pub enum Status {
    /// It waits for a worker.
    #[sea_orm(string_value = "waiting")]
    Waiting,
    /// A worker is at it.
    #[sea_orm(string_value = "running")]
    Running,
    /// It is done.
    #[sea_orm(string_value = "done")]
    Done,
    /// It ended before its end; nothing was taken.
    #[sea_orm(string_value = "failed")]
    Failed,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "records_runs")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub link_id: Uuid,
    pub mode: Mode,
    /// Whether also what did not change is fetched.
    pub everything: bool,
    pub status: Status,
    pub asked_by: Uuid,
    pub created_at: DateTimeUtc,
    pub started_at: Option<DateTimeUtc>,
    /// Of a link one run at most has none.
    pub finished_at: Option<DateTimeUtc>,
    /// When a worker may take it: at once, or when the lease of another ends.
    pub due_at: DateTimeUtc,
    pub attempts: i32,
    /// The lease of the worker that is at it.
    pub lease: Option<Uuid>,
    pub pages: i32,
    pub records: i32,
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub counts: Option<Json>,
    /// What became of the records, and why it ended. It may name people; an erasure empties it.
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub report: Option<Json>,
}

impl ActiveModelBehavior for ActiveModel {}
