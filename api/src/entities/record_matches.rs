//! Rows of `record_matches`. Records that wait for a person.

use sea_orm::entity::prelude::*;

use crate::exchange::intake::{IntakeWait, Kind};

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "record_matches")]
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
    #[sea_orm(column_type = "Text", nullable)]
    pub their_version: Option<String>,
    pub their_updated_at: Option<DateTimeUtc>,
    pub waits_for: IntakeWait,
    /// The grower whose object it would be, or who it may be; none where nobody knows yet.
    pub grower_id: Option<Uuid>,
    /// What it says.
    #[sea_orm(column_type = "JsonBinary")]
    pub record: Json,
    /// Objects of ours that it may be.
    #[sea_orm(column_type = "JsonBinary")]
    pub candidates: Json,
    pub version: i32,
    pub created_at: DateTimeUtc,
    pub updated_at: DateTimeUtc,
    /// When it was erased here, or what it hangs below was. Nothing it says is kept then.
    pub erased_at: Option<DateTimeUtc>,
}

impl ActiveModelBehavior for ActiveModel {}
