//! Rows of `lesson_counters`. How far the lessons of a practice are counted.

use sea_orm::entity::prelude::*;

/// A row. There is none before the first lesson of a practice.
#[sea_orm::model]
#[derive(Debug, Clone, Copy, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "lesson_counters")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    pub seq: i64,
    pub generation: i32,
}

impl ActiveModelBehavior for ActiveModel {}
