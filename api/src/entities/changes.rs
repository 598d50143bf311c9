//! Rows of `changes`. What changed, in the order of commits; never changed.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "changes")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    /// Counted on by one from change to change; there are no gaps.
    #[sea_orm(primary_key, auto_increment = false)]
    pub position: i64,
    pub at: DateTimeUtc,
    /// A wire name of `ChangeType`.
    #[sea_orm(column_name = "type", column_type = "Text")]
    pub change_type: String,
    #[sea_orm(column_type = "Text")]
    pub object_kind: String,
    /// Id of the object, or its name where it has no id.
    #[sea_orm(column_type = "Text")]
    pub object_id: String,
    /// The grower whose object it is, where it is one's.
    pub grower_id: Option<Uuid>,
    /// The version of the object after the change, where it has one.
    pub version: Option<i32>,
}

impl ActiveModelBehavior for ActiveModel {}
