//! Rows of `adjustments`. The one change proposed after a dig check, and what was decided.

use sea_orm::entity::prelude::*;

/// The status of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Status {
    /// `proposed`
    #[sea_orm(string_value = "proposed")]
    Proposed,
    /// `accepted`
    #[sea_orm(string_value = "accepted")]
    Accepted,
    /// `declined`
    #[sea_orm(string_value = "declined")]
    Declined,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "adjustments")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub dig_check_id: Uuid,
    pub recommendation_id: Uuid,
    pub status: Status,
    #[sea_orm(column_type = "JsonBinary")]
    pub proposal: Json,
    pub decided_at: Option<DateTimeUtc>,
    pub decided_by: Option<Uuid>,
    #[sea_orm(column_type = "Text", nullable)]
    pub reason: Option<String>,
    pub next_recommendation_id: Option<Uuid>,
    pub created_at: DateTimeUtc,
    pub version: i32,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
