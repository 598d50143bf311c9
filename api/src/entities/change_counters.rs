//! Rows of `change_counters`. How far the changes of a practice are counted.

use sea_orm::entity::prelude::*;

/// A row. There is none before the first change of a practice.
#[sea_orm::model]
#[derive(Debug, Clone, Copy, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "change_counters")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    pub position: i64,
}

impl ActiveModelBehavior for ActiveModel {}
