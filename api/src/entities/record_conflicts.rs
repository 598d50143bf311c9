//! Rows of `record_conflicts`. Members that both sides changed.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "record_conflicts")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    /// The row of `external_ids`.
    pub external_id: Uuid,
    pub grower_id: Option<Uuid>,
    #[sea_orm(column_type = "Text")]
    pub member: String,
    /// What was taken before; none where they never spoke of it.
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub base: Option<Json>,
    /// What they say.
    #[sea_orm(column_type = "JsonBinary")]
    pub theirs: Json,
    pub version: i32,
    pub created_at: DateTimeUtc,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
