//! Rows of `season_fields`. What a field behind a planter adds up to in a season.

use sea_orm::entity::prelude::*;

use super::dig_lessons::{Cover, Soil};

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "season_fields")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub season: i32,
    #[sea_orm(primary_key, auto_increment = false)]
    pub planter_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub field_id: Uuid,
    pub grower_id: Uuid,
    pub soil: Soil,
    pub cover: Cover,
    #[sea_orm(column_type = "Text")]
    pub look: String,
    #[sea_orm(column_type = "Text")]
    pub sums: String,
}

impl ActiveModelBehavior for ActiveModel {}
