//! Rows of `webhooks`. Where notices of changes go.

use sea_orm::entity::prelude::*;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Whether notices go out.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(example = "active")]
pub enum WebhookStatus {
    /// They do.
    #[sea_orm(string_value = "active")]
    Active,
    /// Somebody paused it: changes wait.
    #[sea_orm(string_value = "paused")]
    Paused,
    /// The service stopped it: the receiver wants no more, or nothing got through for days. Changes wait.
    #[sea_orm(string_value = "stopped")]
    Stopped,
}

/// What a notice looks like.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(example = "plain")]
pub enum NoticeForm {
    /// `type`, `timestamp` and `data`, as Standard Webhooks 1.0.0 has it (`application/json`).
    #[sea_orm(string_value = "plain")]
    Plain,
    /// An event of `CloudEvents` 1.0 in structured mode (`application/cloudevents+json`).
    #[sea_orm(string_value = "cloud_event")]
    CloudEvent,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "webhooks")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    /// The account that made it.
    pub made_by: Uuid,
    #[sea_orm(column_type = "Text")]
    pub name: String,
    #[sea_orm(column_type = "Text")]
    pub url: String,
    /// Types of changes, split by spaces; empty for all.
    #[sea_orm(column_type = "Text")]
    pub types: String,
    pub form: NoticeForm,
    /// Whether one notice waits for the one before.
    pub ordered: bool,
    pub status: WebhookStatus,
    #[sea_orm(column_type = "Text", nullable)]
    pub stopped_because: Option<String>,
    /// Sealed.
    #[sea_orm(column_type = "Text")]
    pub secret: String,
    /// Sealed; signs too until the time beside it.
    #[sea_orm(column_type = "Text", nullable)]
    pub secret_before: Option<String>,
    pub secret_before_until: Option<DateTimeUtc>,
    /// All changes up to this position have a delivery, where they are wanted.
    pub read_to: i64,
    /// When a delivery is due next.
    pub due_at: Option<DateTimeUtc>,
    /// Nothing goes out before.
    pub held_until: Option<DateTimeUtc>,
    /// How many rounds nothing got through.
    pub failures: i32,
    /// Since when nothing got through.
    pub failing_since: Option<DateTimeUtc>,
    /// The lease of the process that delivers.
    pub lease: Option<Uuid>,
    pub leased_until: Option<DateTimeUtc>,
    pub version: i32,
    pub created_at: DateTimeUtc,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
