//! Rows of `erased_records`. What records systems called growers who were erased, as hashes.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "erased_records")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    /// What is left of the grower with whom it was erased.
    pub grower_id: Uuid,
    /// Keyed hash of system, kind and id.
    #[sea_orm(column_type = "Text")]
    pub mark: String,
    pub erased_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
