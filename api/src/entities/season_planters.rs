//! Rows of `season_planters`. What the fields behind a planter add up to in a season.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "season_planters")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub season: i32,
    #[sea_orm(primary_key, auto_increment = false)]
    pub planter_id: Uuid,
    pub grower_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub sums: String,
}

impl ActiveModelBehavior for ActiveModel {}
