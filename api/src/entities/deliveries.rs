//! Rows of `deliveries`. Notices, until they arrived or were given up.

use sea_orm::entity::prelude::*;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Where a notice stands.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(example = "delivered")]
pub enum DeliveryStatus {
    /// It waits for its first try, or its next.
    #[sea_orm(string_value = "waiting")]
    Waiting,
    /// The receiver took it.
    #[sea_orm(string_value = "delivered")]
    Delivered,
    /// It was given up; nobody tries again unless told to.
    #[sea_orm(string_value = "dead")]
    Dead,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "deliveries")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub webhook_id: Uuid,
    /// The change that it tells of; none for a test notice.
    pub position: Option<i64>,
    pub status: DeliveryStatus,
    pub attempts: i32,
    /// When it is tried next.
    pub due_at: DateTimeUtc,
    /// The status that the receiver answered last.
    pub last_status: Option<i32>,
    #[sea_orm(column_type = "Text", nullable)]
    pub last_error: Option<String>,
    pub created_at: DateTimeUtc,
    pub finished_at: Option<DateTimeUtc>,
}

impl ActiveModelBehavior for ActiveModel {}
