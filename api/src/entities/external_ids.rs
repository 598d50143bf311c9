//! Rows of `external_ids`. The ids that records systems give, and what was taken last.

use sea_orm::entity::prelude::*;

use crate::exchange::intake::Kind;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "external_ids")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub system: String,
    pub kind: Kind,
    #[sea_orm(column_type = "Text")]
    pub their_id: String,
    /// Our object; it stays when the object is deleted.
    pub object_id: Uuid,
    /// None once the grower is deleted.
    pub grower_id: Option<Uuid>,
    /// What they said last.
    #[sea_orm(column_type = "JsonBinary")]
    pub taken: Json,
    #[sea_orm(column_type = "Text")]
    pub taken_hash: String,
    #[sea_orm(column_type = "Text", nullable)]
    pub their_version: Option<String>,
    pub their_updated_at: Option<DateTimeUtc>,
    pub first_seen_at: DateTimeUtc,
    pub last_seen_at: DateTimeUtc,
    pub gone_since: Option<DateTimeUtc>,
    pub version: i32,
}

impl ActiveModelBehavior for ActiveModel {}
