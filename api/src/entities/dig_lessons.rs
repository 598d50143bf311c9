//! Rows of `dig_lessons`. What a dig check taught about resistance; its id is that of the dig check.

use sea_orm::entity::prelude::*;

/// The soil that a lesson is pooled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Soil {
    /// `unknown`
    #[sea_orm(string_value = "unknown")]
    Unknown,
    /// `coarse`
    #[sea_orm(string_value = "coarse")]
    Coarse,
    /// `medium`
    #[sea_orm(string_value = "medium")]
    Medium,
    /// `fine`
    #[sea_orm(string_value = "fine")]
    Fine,
}

/// The cover that a lesson is pooled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Cover {
    /// `no_cover`
    #[sea_orm(string_value = "no_cover")]
    NoCover,
    /// `living`
    #[sea_orm(string_value = "living")]
    Living,
    /// `dead`
    #[sea_orm(string_value = "dead")]
    Dead,
}

/// A row. Without an event the dig check teaches nothing.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "dig_lessons")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub seq: i64,
    pub planter_id: Uuid,
    pub field_id: Uuid,
    pub season: i32,
    pub soil: Soil,
    pub cover: Cover,
    pub dug_at: DateTimeUtc,
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub event: Option<Json>,
    pub created_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
