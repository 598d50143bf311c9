//! Rows of `calibrations`. Down force against pressure, as measured on a planter.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "calibrations")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub planter_id: Uuid,
    pub calibrated_on: Date,
    #[sea_orm(column_type = "JsonBinary")]
    pub points: Json,
    #[sea_orm(column_type = "Text", nullable)]
    pub notes: Option<String>,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
}

impl ActiveModelBehavior for ActiveModel {}
