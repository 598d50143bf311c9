//! Rows of `jobs`. Work that follows a change, until it is done.

use sea_orm::entity::prelude::*;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What is to be done. Each kind has one handler, in `crate::jobs::work`.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(example = "sheet_ready")]
pub enum Kind {
    /// Mail an account what needs it.
    #[sea_orm(string_value = "digest")]
    Digest,
    /// Mail a grower that a sheet is ready.
    #[sea_orm(string_value = "sheet_ready")]
    SheetReady,
    /// Mail an account a link that sets its password.
    #[sea_orm(string_value = "password_link")]
    PasswordLink,
    /// Mail a grower a link that lets him in.
    #[sea_orm(string_value = "access_link")]
    AccessLink,
}

/// Where a job stands.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(example = "dead")]
pub enum Status {
    /// It waits for its time, or a worker is at it.
    #[sea_orm(string_value = "waiting")]
    Waiting,
    /// It is done.
    #[sea_orm(string_value = "done")]
    Done,
    /// It failed for good; nobody tries again unless told to.
    #[sea_orm(string_value = "dead")]
    Dead,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "jobs")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub kind: Kind,
    #[sea_orm(column_type = "JsonBinary")]
    pub payload: Json,
    /// The grower that it is about, where it is about one.
    pub grower_id: Option<Uuid>,
    /// Two jobs of a practice never have the same.
    #[sea_orm(column_type = "Text", nullable)]
    pub once_key: Option<String>,
    pub status: Status,
    pub run_at: DateTimeUtc,
    pub attempts: i32,
    /// The lease of the worker that is at it; `run_at` is when it ends.
    pub lease: Option<Uuid>,
    #[sea_orm(column_type = "Text", nullable)]
    pub last_error: Option<String>,
    pub created_at: DateTimeUtc,
    pub finished_at: Option<DateTimeUtc>,
}

impl ActiveModelBehavior for ActiveModel {}
