//! Rows of `air_temperatures`. Highest and lowest temperature of a day at a farm.

use sea_orm::entity::prelude::*;

/// Where the temperatures of a row come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum DayKind {
    /// `measured`
    #[sea_orm(string_value = "measured")]
    Measured,
    /// `expected`
    #[sea_orm(string_value = "expected")]
    Expected,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "air_temperatures")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub farm_id: Uuid,
    pub day: Date,
    pub kind: DayKind,
    #[sea_orm(column_type = "Text")]
    pub station: String,
    pub high_k: f64,
    pub low_k: f64,
    #[sea_orm(column_type = "JsonBinary")]
    pub entered: Json,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
