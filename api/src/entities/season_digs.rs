//! Rows of `season_digs`. What a dig check says about its season; its id is that of the dig check.

use sea_orm::entity::prelude::*;

use super::dig_lessons::{Cover, Soil};

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "season_digs")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub series_id: Uuid,
    pub planter_id: Uuid,
    pub field_id: Uuid,
    pub dug_at: DateTimeUtc,
    pub soil: Soil,
    pub cover: Cover,
    pub once: bool,
    pub tells: bool,
    pub depth_inside: Option<bool>,
    pub load_inside: Option<bool>,
    pub off_um: Option<i64>,
    pub tolerance_um: i64,
    pub speed_mm_s: i64,
    pub load_n: Option<i64>,
    #[sea_orm(column_type = "Text")]
    pub depths: String,
    pub seeds_within: i32,
    pub seeds: i32,
    #[sea_orm(column_type = "Text", nullable)]
    pub cause: Option<String>,
    #[sea_orm(column_type = "Text")]
    pub iron: String,
}

impl ActiveModelBehavior for ActiveModel {}
